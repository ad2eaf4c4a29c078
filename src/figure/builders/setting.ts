import type { LabResult, Pipeline } from '../../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { GapLedger, LedgerValue } from '../../reconcile/index.ts';
import { allEffects, type RunGroup, valuesOfGroup } from '../../run/index.ts';
import { describeSeries } from '../describe.ts';
import type { ChartFigure, CurveMark, PointsMark, SeriesRole } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { numberAxis } from '../number-axis.ts';
import { plainText, type RichText, upright } from '../rich-text.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** Places at which a theory's formula is worked out between the settings. */
const CURVE_PLACES = 81;

type BaseQuantity = RunGroup['when'][number]['quantity'];

/** One group of runs with its ledger and the value of the setting, SI. */
interface At {
  readonly setting: number;
  readonly ledger: GapLedger;
}

/**
 * A result against the setting that the groups of runs differ in: measured and predicted, and the theory as a curve.
 *
 * @param ledgers the ledgers of `result`, one a group; others are passed over
 * @returns fails where the groups do not differ in one quantity
 */
export function settingFigure(
  pipeline: Pipeline,
  result: LabResult,
  groups: readonly RunGroup[],
  ledgers: readonly GapLedger[],
  wording: Wording,
): Outcome<ChartFigure> {
  const phrases = phrasesOf(wording.language);
  const setting = varyingSetting(groups);
  if (setting === null) {
    return fail(
      problem(
        'no-varying-setting',
        { file: pipeline.lab.file },
        `All runs of ${result.name} were taken under the same settings, so there is nothing to draw it against.`,
        'Give the plan more than one value of a quantity.',
      ),
    );
  }
  const own = ledgers.filter((ledger) => ledger.result === result);
  const all = groups.flatMap((group): At[] => {
    const ledger = own.find((candidate) => candidate.group === group.label);
    const value = group.when.find(({ quantity }) => quantity === setting)?.value ?? setting.estimate.value;
    return ledger === undefined ? [] : [{ setting: value, ledger }];
  });
  const at = all.sort((a, b) => a.setting - b.setting);
  const series = (
    role: SeriesRole,
    name: RichText,
    take: (ledger: GapLedger) => LedgerValue | null,
  ): PointsMark => {
    const found = at.flatMap(({ setting: place, ledger }) => {
      const taken = take(ledger);
      return taken === null ? [] : [{ place, taken }];
    });
    return {
      kind: 'points',
      role,
      name,
      x: found.map(({ place }) => fromSI(place, setting.unit, 'point')),
      y: found.map(({ taken }) => fromSI(taken.value, result.unit, 'point')),
      ux: null,
      uy: found.map(({ taken }) => fromSI(taken.standardUncertainty, result.unit, 'interval')),
    };
  };
  const x = numberAxis(symbolText(setting.name), formatUnit(setting.unit));
  const y = numberAxis(symbolText(result.name), formatUnit(result.unit));
  const marks = [
    series('measured', upright(phrases.plusMinusUncertainty(phrases.measured)), ({ measured }) => measured),
    series('full', upright(phrases.plusMinusUncertainty(phrases.full)), ({ full }) => full),
    ...theoryCurve(pipeline, result, setting, groups, upright(phrases.theory)),
  ].filter(({ x: values }) => values.length > 0);
  return succeed({
    kind: 'chart',
    name: figureName('setting', result.name, setting.name),
    title: phrases.settingTitle(plainText(y.quantity), plainText(x.quantity)),
    description: marks.flatMap((mark) => describeSeries(mark, x, y, wording)).join(' '),
    ...wording,
    statement: [],
    x,
    panels: [{ y, share: 1, marks }],
  });
}

/** The quantity that takes most values over the groups; null where none takes two. */
function varyingSetting(groups: readonly RunGroup[]): BaseQuantity | null {
  const values = new Map<BaseQuantity, Set<number>>();
  for (const { quantity, value } of groups.flatMap(({ when }) => when)) {
    values.set(quantity, (values.get(quantity) ?? new Set()).add(value));
  }
  const [most] = [...values].sort(([, a], [, b]) => b.size - a.size);
  return most === undefined || most[1].size < 2 ? null : most[0];
}

/** The theory's formula at values between the settings, everything else as in the first group. */
function theoryCurve(
  pipeline: Pipeline,
  result: LabResult,
  setting: BaseQuantity,
  groups: readonly RunGroup[],
  name: RichText,
): readonly CurveMark[] {
  const { theory } = result;
  const [first] = groups;
  if (theory === null || first === undefined) return [];
  const values = groups.map(
    ({ when }) => when.find(({ quantity }) => quantity === setting)?.value ?? setting.estimate.value,
  );
  const low = Math.min(...values);
  const high = Math.max(...values);
  const others = first.when.filter(({ quantity }) => quantity !== setting);
  const x = Float64Array.from(
    { length: CURVE_PLACES },
    (_, i) => low + ((high - low) * i) / (CURVE_PLACES - 1),
  );
  const y = x.map((value) => {
    const group = { ...first, when: [...others, { quantity: setting, value }] };
    return theory.evaluate(valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(pipeline.lab)));
  });
  return [
    {
      kind: 'curve',
      role: 'theory',
      name,
      x: x.map((value) => fromSI(value, setting.unit, 'point')),
      y: y.map((value) => fromSI(value, result.unit, 'point')),
    },
  ];
}
