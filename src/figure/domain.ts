import type { BarsMark, LevelsMark, Mark, NumberAxis, Numbers } from './figure.ts';

/** Beyond this a difference of two numbers could overflow. */
const LARGEST = 1e306;
/** A scale cannot be finer than doubles: the least span against the largest value on it, and the least at all. */
const LEAST_RELATIVE_SPAN = 1e-10;
const LEAST_SPAN = 1e-290;
/** Usual free space at each end, against the span of the data. */
export const PADDING = 0.04;
/** Zero is shown where it is this near to the data, against their distance from it: a slope is best read from 0. */
const NEAR_ZERO = 0.3;

interface Extent {
  low: number;
  high: number;
}

/**
 * The range of values that an axis shows: that of its marks with a little space around, or the one asked for.
 *
 * @param padding free space at each end, against the span of the data
 */
export function domainOf(
  axis: NumberAxis,
  marks: readonly Mark[],
  along: 'x' | 'y',
  padding = PADDING,
): readonly [number, number] {
  const log = axis.kind === 'log';
  if (axis.range !== null && isUsable(axis.range, log)) return axis.range;
  const extent: Extent = { low: Number.POSITIVE_INFINITY, high: Number.NEGATIVE_INFINITY };
  const take = (value: number): void => {
    if (Math.abs(value) <= LARGEST && (!log || value > 0)) {
      extent.low = Math.min(extent.low, value);
      extent.high = Math.max(extent.high, value);
    }
  };
  for (const mark of marks) takeMark(mark, along, take);
  for (const value of axis.includes) take(value);
  if (extent.low > extent.high) return log ? [1, 10] : [0, 1];
  return log ? padLogarithmic(extent, padding) : padLinear(extent, standsOnZero(marks, along), padding);
}

function isUsable([low, high]: readonly [number, number], log: boolean): boolean {
  const ordered = Number.isFinite(low) && Number.isFinite(high) && low < high;
  return ordered && Number.isFinite(high - low) && high - low >= LEAST_SPAN && (!log || low > 0);
}

function takeMark(mark: Mark, along: 'x' | 'y', take: (value: number) => void): void {
  switch (mark.kind) {
    case 'points':
      takeWithUncertainty(mark[along], along === 'x' ? mark.ux : mark.uy, take);
      return;
    case 'curve':
      takeAll(mark[along], take);
      return;
    case 'band':
      for (const values of along === 'x' ? [mark.x] : [mark.low, mark.high]) takeAll(values, take);
      return;
    case 'rule':
      if (mark.along === along) take(mark.at);
      return;
    case 'region':
      if (along === 'x') for (const value of [mark.from, mark.to]) take(value);
      return;
    case 'bars':
      takeBars(mark, along, take);
      return;
    case 'levels':
      if (along === 'x') takeLevels(mark, take);
  }
}

function takeAll(values: Numbers, take: (value: number) => void): void {
  for (let i = 0; i < values.length; i++) take(values[i]);
}

function takeWithUncertainty(values: Numbers, u: Numbers | null, take: (value: number) => void): void {
  for (let i = 0; i < values.length; i++) {
    const half = u === null || !Number.isFinite(u[i]) ? 0 : u[i];
    for (const value of [values[i], values[i] - half, values[i] + half]) take(value);
  }
}

function takeBars(mark: BarsMark, along: 'x' | 'y', take: (value: number) => void): void {
  takeAll(along === 'x' ? mark.edges : mark.heights, take);
  if (along === 'y') take(0);
}

function takeLevels(mark: LevelsMark, take: (value: number) => void): void {
  for (const level of mark.levels) {
    const u = Number.isFinite(level.standardUncertainty) ? level.standardUncertainty : 0;
    const ends = level.kind === 'total' ? [level.value] : [level.from, level.to];
    take(ends[0]);
    const last = ends[ends.length - 1];
    for (const value of [last, last - u, last + u]) take(value);
  }
}

function standsOnZero(marks: readonly Mark[], along: 'x' | 'y'): boolean {
  return along === 'y' && marks.some((mark) => mark.kind === 'bars');
}

function padLinear({ low, high }: Extent, onZero: boolean, share: number): readonly [number, number] {
  const largest = Math.max(Math.abs(low), Math.abs(high));
  const least = Math.max(largest * LEAST_RELATIVE_SPAN, LEAST_SPAN);
  let [from, to] = [low, high];
  if (to - from < least) {
    const half = largest === 0 ? 1 : Math.max(largest * 0.05, LEAST_SPAN);
    [from, to] = [from - half, to + half];
  }
  const span = to - from;
  if (onZero && low === 0) return [0, to + span * share];
  if (from > 0 && from < NEAR_ZERO * span) from = 0;
  if (to < 0 && -to < NEAR_ZERO * span) to = 0;
  const padding = (to - from) * share;
  return [from === 0 && low > 0 ? 0 : from - padding, to === 0 && high < 0 ? 0 : to + padding];
}

function padLogarithmic({ low, high }: Extent, share: number): readonly [number, number] {
  const ratio = high / low;
  const factor = ratio < 1.05 ? 1.5 : Number.isFinite(ratio) ? ratio ** share : 10;
  return [Math.max(low / factor, LEAST_SPAN), Math.min(high * factor, LARGEST)];
}
