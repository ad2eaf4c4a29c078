import {
  createGauge,
  type Measure,
  mapMeasures,
  placesOf,
  readCondition,
  readMeasure,
  readVariation,
  type Stretch,
  solveThreshold,
  type ThresholdAnswer,
  type Variation,
} from '../../../src/adapt/index.ts';
import { type ChartFigure, measureMapFigure } from '../../../src/figure/index.ts';
import type { Setting } from '../../../src/lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../../../src/problem/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../../src/quantity/index.ts';
import { labelSettings } from '../../../src/run/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';

export interface VariationQuestion {
  readonly source: LabSource;
  readonly quantity: string;
  /** With their units, as they were typed. */
  readonly from: string;
  readonly to: string;
  /** A second quantity, for a map over two; null for one alone. */
  readonly second: { readonly quantity: string; readonly from: string; readonly to: string } | null;
  /** 'gap(k2)'. */
  readonly measure: string;
  /** What the measure is held against; null where only the figure is wanted. */
  readonly until: { readonly sense: '<' | '>'; readonly limit: string } | null;
}

export interface VariationAnswer {
  readonly figure: ChartFigure;
  /** Places of the range where the lab cannot be run, with the first reason. */
  readonly failed: number;
  readonly firstFailure: string | null;
  /** Where the condition is met, a sentence for each value of the second quantity; null where none was asked for. */
  readonly threshold: {
    readonly says: readonly string[];
    readonly range: string;
    readonly isMet: boolean;
  } | null;
}

/** What a measure does while one or two quantities go over ranges, and where it keeps to a limit. */
export const variationTask: Task<VariationQuestion, VariationAnswer> = {
  async run(room, question, report): Promise<Outcome<VariationAnswer>> {
    const opened = room.openAlone(question.source);
    if (!opened.ok) return opened;
    const { lab, pipeline } = opened.value;
    const { quantity, from, to, until } = question;
    const variation = readVariation(lab, `${quantity}=${from}..${to}`);
    if (!variation.ok) return variation;
    const { second } = question;
    const other =
      second === null ? succeed(null) : readVariation(lab, `${second.quantity}=${second.from}..${second.to}`);
    if (!other.ok) return other;
    if (other.value?.quantity === variation.value.quantity)
      return fail(problem('usage', {}, 'Both ranges are of one quantity; a map needs two.'));
    const variations = other.value === null ? [variation.value] : [variation.value, other.value];
    const condition =
      until === null
        ? null
        : readCondition(lab, `${question.measure} ${until.sense} ${until.limit}`, 'The limit');
    if (condition?.ok === false) return condition;
    const measure =
      condition === null
        ? readMeasure(lab, question.measure, 'The measure')
        : succeed(condition.value.measure);
    if (!measure.ok) return measure;
    const gauge = createGauge(pipeline);
    const progress = (done: number, total: number): void => report.progress(done, total, 'places');
    const map = mapMeasures(gauge, [measure.value], variations, [], { progress });
    if (!map.ok) return map;
    const figure = measureMapFigure(map.value, measure.value, WORDING);
    if (!figure.ok) return figure;
    const solved: (readonly [Setting[], ThresholdAnswer])[] = [];
    for (const settings of condition === null ? [] : casesOf(other.value)) {
      if (condition === null) break;
      const found = solveThreshold(gauge, condition.value, variation.value, settings, {
        ...(other.value === null ? {} : { places: PLACES_OF_EACH }),
        progress,
      });
      if (!found.ok) return found;
      solved.push([settings, found.value]);
    }
    return succeed({
      figure: figure.value,
      failed: map.value.failed,
      firstFailure: map.value.firstFailure?.message ?? null,
      threshold: solved.length === 0 ? null : tellThreshold(solved),
    });
  },
};

/** Places of the first look along the first quantity, at each value of a second. */
const PLACES_OF_EACH = 17;

/** Values of the second quantity at which the question is asked. */
const CASES = 5;

function casesOf(second: Variation | null): Setting[][] {
  if (second === null) return [[]];
  return placesOf(second, CASES).map((value) => [{ quantity: second.quantity, value }]);
}

function tellThreshold(
  solved: readonly (readonly [readonly Setting[], ThresholdAnswer])[],
): VariationAnswer['threshold'] {
  const [first] = solved;
  if (first === undefined) return null;
  const { condition, looked, variation } = first[1];
  const values = solved
    .flatMap(([, answer]) => answer.looked.map(({ value }) => value))
    .filter((value) => Number.isFinite(value));
  const { name } = variation.quantity;
  return {
    says: solved.map(([settings, answer]) => {
      const at = labelSettings(settings);
      return settings.length === 0
        ? `${condition.text} is met ${sayStretches(answer)}.`
        : `At ${at} ${condition.text} is met ${sayStretches(answer)}.`;
    }),
    range: `Over the range ${condition.measure.text} lies between ${sayMeasure(condition.measure, Math.min(...values))} and ${sayMeasure(condition.measure, Math.max(...values))}. ${looked.length} places were looked at and each change between them solved for; a stretch of ${name} narrower than their distance could be missed.`,
    isMet: solved.some(([, { stretches }]) => stretches.length > 0),
  };
}

/** 'for L above 1.234 m'; 'nowhere in that range of L'. */
function sayStretches({ variation: { quantity }, stretches }: ThresholdAnswer): string {
  const [only] = stretches;
  if (only === undefined) return `nowhere in that range of ${quantity.name}`;
  if (stretches.length === 1 && !only.begins && !only.ceases)
    return `everywhere in that range of ${quantity.name}`;
  const say = (si: number): string => {
    // Four digits: the limit itself is seldom known better.
    const shown = formatNumber(fromSI(si, quantity.unit, 'point'), { significant: 4 });
    return `${shown} ${formatUnit(quantity.unit)}`.trim();
  };
  const sayOne = ({ from, to, begins, ceases }: Stretch): string => {
    if (begins && ceases) return `for ${quantity.name} between ${say(from)} and ${say(to)}`;
    return begins ? `for ${quantity.name} above ${say(from)}` : `for ${quantity.name} below ${say(to)}`;
  };
  return stretches.map(sayOne).join(' and ');
}

function sayMeasure({ unit }: Measure, si: number): string {
  return `${formatNumber(fromSI(si, unit, 'interval'), { significant: 3 })} ${formatUnit(unit)}`.trim();
}
