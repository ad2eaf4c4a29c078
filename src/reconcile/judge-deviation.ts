import { studentTail } from '../inference/index.ts';
import { hypotenuse, power } from '../wasm/index.ts';

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

/**
 * The probability that what the quantities and chance together do is at least as large as `size`, either way.
 *
 * What the draws have of limits stays limited (a rectangular part is found by their kurtosis), the rest is normal;
 * Student's distribution of the scatter is joined to it with the effective degrees of freedom.
 *
 * @returns 0 to 1; NaN where nothing is uncertain
 * Source: JCGM 100:2008, G.4.1 (effective degrees of freedom), G.2.2 and G.6.5 (a rectangular part that dominates)
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

/** Excess kurtosis of a rectangular distribution, and above which draws count as normal. */
const RECTANGULAR = -1.2;
const AS_GOOD_AS_NORMAL = -0.1;

/** Places that stand for a rectangular part. */
const PLACES = 32;

/** Even limits are not quite sharp: the least normal part, as a share of the spread. */
const LEAST_NORMAL = 0.05;

/** Even places of the rectangular part, and the Student's distribution that is added to each. */
function smooth({ draws, scatter, degreesOfFreedom }: Doubt) {
  const { mean, spread, kurtosis } = momentsOf(draws.filter(Number.isFinite));
  const limited = kurtosis < AS_GOOD_AS_NORMAL ? Math.min(1, Math.sqrt(kurtosis / RECTANGULAR)) : 0;
  const half = spread * Math.sqrt(3 * limited);
  const normal = spread * Math.max(Math.sqrt(1 - limited), limited > 0 ? LEAST_NORMAL : 0);
  const scale = hypotenuse(scatter, normal);
  return {
    draws:
      half === 0
        ? [mean]
        : Array.from({ length: PLACES }, (_, place) => mean + half * ((2 * place + 1) / PLACES - 1)),
    scale,
    // Welch–Satterthwaite: the normal part counts as known for certain.
    degreesOfFreedom: scatter === 0 ? Number.POSITIVE_INFINITY : degreesOfFreedom * power(scale / scatter, 4),
  };
}

/** Mean, standard deviation and excess kurtosis; a single 0 where nothing was drawn. */
function momentsOf(draws: readonly number[]) {
  if (draws.length === 0) return { mean: 0, spread: 0, kurtosis: 0 };
  const mean = draws.reduce((sum, draw) => sum + draw, 0) / draws.length;
  const variance = draws.reduce((sum, draw) => sum + (draw - mean) ** 2, 0) / draws.length;
  if (variance === 0) return { mean, spread: 0, kurtosis: 0 };
  const fourth = draws.reduce((sum, draw) => sum + power(draw - mean, 4), 0) / draws.length;
  return { mean, spread: Math.sqrt(variance), kurtosis: fourth / variance ** 2 - 3 };
}
