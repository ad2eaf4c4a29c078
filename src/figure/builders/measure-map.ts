import type { Measure, MeasureMap, Variation } from '../../adapt/index.ts';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { formatUnit, fromSI } from '../../quantity/index.ts';
import type { ChartFigure, CurveMark, SeriesRole } from '../figure.ts';
import { figureName } from '../figure-name.ts';
import { levelLine } from '../level-lines.ts';
import { numberAxis } from '../number-axis.ts';
import { plainText, upright } from '../rich-text.ts';
import { sayNumber } from '../say-number.ts';
import { symbolText } from '../symbol-text.ts';
import { phrasesOf, type Wording } from '../wording.ts';

/** Lines of one value look unlike each other in grey too; there are as many looks as this. */
const ROLES: readonly SeriesRole[] = ['first', 'second', 'third', 'fourth'];

/**
 * A measure over one varied quantity as a curve, or over two as lines of equal value.
 *
 * @returns fails where the measure has no value, or one value everywhere, so that there is nothing to draw
 */
export function measureMapFigure(map: MeasureMap, measure: Measure, wording: Wording): Outcome<ChartFigure> {
  const phrases = phrasesOf(wording.language);
  const [first, second] = map.variations;
  const values = map.values[map.measures.indexOf(measure)];
  const known = Array.from(values ?? []).filter((value) => Number.isFinite(value));
  if (first === undefined || values === undefined || known.length === 0) {
    const message = `${measure.text} has no value anywhere, so there is nothing to draw.`;
    return fail(problem('nothing-to-draw', {}, message));
  }
  const unit = formatUnit(measure.unit);
  const shown = unit === '1' ? '' : unit;
  const inUnit = values.map((value) => fromSI(value, measure.unit, 'interval'));
  const own = (variation: Variation, places: readonly number[]) =>
    places.map((place) => fromSI(place, variation.quantity.unit, 'point'));
  const x = own(first, map.places[0] ?? []);
  const y = second === undefined ? [] : own(second, map.places[1] ?? []);
  const say = (value: number) => sayNumber(value, shown, wording, 3);
  const where = (index: number) =>
    second === undefined
      ? sayPlace(first, x[index] ?? Number.NaN, wording)
      : `${sayPlace(first, x[Math.floor(index / y.length)] ?? Number.NaN, wording)}, ${sayPlace(second, y[index % y.length] ?? Number.NaN, wording)}`;
  const finite = Array.from(inUnit).filter((value) => Number.isFinite(value));
  const least = Math.min(...finite);
  const greatest = Math.max(...finite);
  const head = {
    kind: 'chart' as const,
    name: figureName('map', measure.text.replace(/[^\p{L}\d]+/gu, '-'), first.quantity.name),
    title: phrases.mapTitle({
      measure: measure.text,
      first: plainText(symbolText(first.quantity.name)),
      second: second === undefined ? null : plainText(symbolText(second.quantity.name)),
    }),
    description: phrases.sayMap({
      measure: measure.text,
      least: say(least),
      atLeast: where(inUnit.indexOf(least)),
      greatest: say(greatest),
      atGreatest: where(inUnit.indexOf(greatest)),
    }),
    ...wording,
    statement: [],
    x: numberAxis(symbolText(first.quantity.name), formatUnit(first.quantity.unit)),
  };
  if (second === undefined) {
    const curve: CurveMark = { kind: 'curve', role: 'full', name: [], x, y: inUnit };
    return succeed({
      ...head,
      panels: [{ y: numberAxis(upright(measure.text), shown), share: 1, marks: [curve] }],
    });
  }
  const marks = levelsBetween(least, greatest).map((level, index): CurveMark => {
    const line = levelLine(x, y, inUnit, level);
    return {
      kind: 'curve',
      role: ROLES[index] ?? 'quiet',
      name: upright(`${measure.text} = ${say(level)}`),
      x: line.x,
      y: line.y,
    };
  });
  if (marks.length === 0) {
    const message = `${measure.text} is ${say(least)} all over the map, so there are no lines to draw.`;
    return fail(problem('nothing-to-draw', {}, message));
  }
  const ends = (places: readonly number[]): readonly [number, number] => [
    Math.min(...places),
    Math.max(...places),
  ];
  return succeed({
    ...head,
    x: { ...head.x, range: ends(x) },
    panels: [
      {
        y: {
          ...numberAxis(symbolText(second.quantity.name), formatUnit(second.quantity.unit)),
          range: ends(y),
        },
        share: 1,
        marks,
      },
    ],
  });
}

function sayPlace({ quantity }: Variation, value: number, wording: Wording): string {
  return `${plainText(symbolText(quantity.name))} = ${sayNumber(value, formatUnit(quantity.unit), wording, 3)}`;
}

/** Up to four round values strictly between two, evenly apart. */
function levelsBetween(least: number, greatest: number): readonly number[] {
  const span = greatest - least;
  if (!(span > 1e-9 * Math.abs(greatest))) return [];
  const decade = 10 ** Math.floor(Math.log10(span));
  for (const step of [0.1, 0.2, 0.25, 0.5, 1, 2, 5].map((lead) => lead * decade)) {
    const first = Math.ceil(least / step + 1e-9);
    const last = Math.floor(greatest / step - 1e-9);
    const count = last - first + 1;
    if (count < 1 || count > ROLES.length) continue;
    return Array.from({ length: count }, (_, index) => Number(((first + index) * step).toPrecision(12)));
  }
  return [];
}
