import type { ChartFigure, CurveMark, NumberAxis, Numbers, PointsMark } from './figure.ts';
import type { Bars, Trend } from './phrases.ts';
import { plainText } from './rich-text.ts';
import { sayNumber } from './say-number.ts';
import { phrasesOf, type Wording } from './wording.ts';

/** A part of a range this small does not count as a change of direction: readings scatter. */
const STRAY = 0.1;

/**
 * What the named series of one panel show, in sentences: how many readings, of what against what, with which bars, and
 * where they go from and to.
 */
export function describeSeries(
  mark: PointsMark | CurveMark,
  x: NumberAxis,
  y: NumberAxis,
  wording: Wording,
): readonly string[] {
  const phrases = phrasesOf(wording.language);
  const about = { name: plainText(mark.name), y: plainText(y.quantity), x: plainText(x.quantity) };
  const present = indicesOf(mark);
  if (present.length === 0) return [phrases.sayNothing()];
  const first =
    mark.kind === 'points'
      ? phrases.sayPoints({ ...about, count: present.length, bars: barsOf(mark) })
      : phrases.saySeries(about);
  return [first, describeRange(mark, present, x, y, wording)];
}

function describeRange(
  mark: PointsMark | CurveMark,
  present: readonly number[],
  x: NumberAxis,
  y: NumberAxis,
  wording: Wording,
): string {
  const ordered = [...present].sort((a, b) => mark.x[a] - mark.x[b]);
  const values = ordered.map((i) => mark.y[i]);
  const { low, high } = extremesOf(values);
  const start = values[0];
  const end = values[values.length - 1];
  const trend = trendOf(start, end, low, high);
  const [fromY, toY] = trend === 'varying' ? [low, high] : [start, end];
  const say = (value: number, axis: NumberAxis): string => sayNumber(value, axis.unit, wording);
  return phrasesOf(wording.language).sayRange({
    y: plainText(y.quantity),
    fromY: say(fromY, y),
    toY: say(toY, y),
    trend,
    x: plainText(x.quantity),
    fromX: say(mark.x[ordered[0]], x),
    toX: say(mark.x[ordered[ordered.length - 1]], x),
  });
}

function trendOf(start: number, end: number, low: number, high: number): Trend {
  const span = high - low;
  if (span === 0) return 'level';
  const stray = STRAY * span;
  if (end - start > 0 && start - low <= stray && high - end <= stray) return 'rising';
  if (end - start < 0 && high - start <= stray && end - low <= stray) return 'falling';
  return 'varying';
}

function indicesOf(mark: PointsMark | CurveMark): readonly number[] {
  return Array.from({ length: Math.min(mark.x.length, mark.y.length) }, (_, i) => i).filter(
    (i) => Number.isFinite(mark.x[i]) && Number.isFinite(mark.y[i]),
  );
}

function barsOf({ ux, uy }: PointsMark): Bars {
  const has = (u: Numbers | null): boolean => u !== null && Array.from(u).some((value) => value > 0);
  if (has(ux)) return has(uy) ? 'both' : 'across';
  return has(uy) ? 'up' : 'none';
}

/** Least and greatest of the values that are numbers; NaN where there is none. */
export function extremesOf(values: Numbers): { readonly low: number; readonly high: number } {
  let low = Number.NaN;
  let high = Number.NaN;
  for (let i = 0; i < values.length; i++) {
    if (!Number.isFinite(values[i])) continue;
    if (!(values[i] >= low)) low = values[i];
    if (!(values[i] <= high)) high = values[i];
  }
  return { low, high };
}

/** The alternative text of a figure that its author did not describe: a sentence or two for each series. */
export function describeChart(figure: Omit<ChartFigure, 'description'>): string {
  const sentences = figure.panels.flatMap(({ y, marks }) =>
    y.kind === 'rows'
      ? []
      : marks
          .filter((mark): mark is PointsMark | CurveMark => mark.kind === 'points' || mark.kind === 'curve')
          .flatMap((mark) => describeSeries(mark, figure.x, y, figure)),
  );
  return sentences.length === 0 ? phrasesOf(figure.language).sayNothing() : sentences.join(' ');
}
