import { studentTail } from '../inference/index.ts';

/** A coverage interval, SI. */
export interface Interval {
  readonly level: number;
  readonly low: number;
  readonly high: number;
}

/** What is known of how far a number may be off. */
export interface Doubt {
  /** One possible deviation a draw of the quantities, SI; NaN where a draw left the domain. */
  readonly draws: readonly number[];
  /** Standard deviation of what chance adds, and its degrees of freedom. */
  readonly scatter: number;
  readonly degreesOfFreedom: number;
}

/** The usual coverage; common practice, no source. */
const LEVEL = 0.95;

/** Draws are finitely many: each stands for values around it within this share of their spread. */
const WIDTH_OF_DRAW = 0.1;

/**
 * The probability that what the quantities and chance together do is at least as large as `size`, either way.
 *
 * The draws keep their own distribution, so that limits (rectangular) stay limits; Student's distribution of the
 * scatter is added to each.
 *
 * @returns 0 to 1; NaN where nothing is uncertain
 * Source: JCGM 101:2008, 5.4 (propagation of distributions), 6.4.9 (t for the scatter of few readings)
 */
export function probabilityBeyond(size: number, doubt: Doubt): number {
  const { draws, scale, degreesOfFreedom } = smooth(doubt);
  if (!(scale > 0)) return Number.NaN;
  const reach = Math.abs(size);
  const sum = draws.reduce(
    (total, draw) =>
      total +
      studentTail((reach - draw) / scale, degreesOfFreedom) +
      studentTail((reach + draw) / scale, degreesOfFreedom),
    0,
  );
  return Math.min(1, sum / draws.length);
}

/** Limits of an interval print with two digits of u. */
const PRECISION = 1e-3;

/** The interval between the quantiles of 2.5 % and 97.5 % of value + deviation; null where nothing is uncertain. */
export function coverageInterval(value: number, doubt: Doubt): Interval | null {
  const { draws, scale, degreesOfFreedom } = smooth(doubt);
  if (!(scale > 0)) return null;
  const tailBeyond = (x: number) =>
    draws.reduce((sum, draw) => sum + studentTail((x - draw) / scale, degreesOfFreedom), 0) / draws.length;
  const quantile = (tail: number): number => {
    let low = Math.min(...draws) - scale;
    let high = Math.max(...draws) + scale;
    while (tailBeyond(low) < tail) low -= 2 * (high - low);
    while (tailBeyond(high) > tail) high += 2 * (high - low);
    for (let halving = 0; halving < 50 && high - low > PRECISION * scale; halving++) {
      const middle = (low + high) / 2;
      if (tailBeyond(middle) > tail) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  const tail = (1 - LEVEL) / 2;
  return { level: LEVEL, low: value + quantile(1 - tail), high: value + quantile(tail) };
}

/** As many draws as are judged by: the first ones of a quasi-random sequence are as even as all. */
const ENOUGH = 256;

/** The draws that succeeded, and the Student's distribution that is added to each. */
function smooth({ draws, scatter, degreesOfFreedom }: Doubt) {
  const sound = draws.slice(0, ENOUGH).filter(Number.isFinite);
  const kept = sound.length === 0 ? [0] : sound;
  const mean = kept.reduce((sum, draw) => sum + draw, 0) / kept.length;
  const spread = Math.sqrt(kept.reduce((sum, draw) => sum + (draw - mean) ** 2, 0) / kept.length);
  const width = WIDTH_OF_DRAW * spread;
  return scatter >= width
    ? { draws: kept, scale: scatter, degreesOfFreedom }
    : { draws: kept, scale: width, degreesOfFreedom: Number.POSITIVE_INFINITY };
}
