import { power } from '../wasm/index.ts';
import { gammaFactor, incompleteGamma } from './incomplete-gamma.ts';
import { invertProbability } from './invert-probability.ts';
import { normalQuantile } from './normal-quantile.ts';

/**
 * Probability that chi-square exceeds x.
 *
 * @param degreesOfFreedom > 0, need not be whole
 * Relative error about 1e-14 for moderate, 1e-13 for far tails.
 */
export function chiSquareTail(x: number, degreesOfFreedom: number): number {
  return x <= 0 ? 1 : incompleteGamma(degreesOfFreedom / 2, x / 2).upper;
}

/** Probability that chi-square falls below x, without loss in the lower tail. */
export function chiSquareProbability(x: number, degreesOfFreedom: number): number {
  return x <= 0 ? 0 : incompleteGamma(degreesOfFreedom / 2, x / 2).lower;
}

/** The x below which chi-square falls with probability p, 0 ≤ p ≤ 1. */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  return fromTails(p, 1 - p, degreesOfFreedom);
}

/** The x that chi-square exceeds with probability q: for tails too small for 1 − q. */
export function chiSquareUpperQuantile(q: number, degreesOfFreedom: number): number {
  return fromTails(1 - q, q, degreesOfFreedom);
}

function fromTails(lower: number, upper: number, v: number): number {
  if (!(v > 0 && lower >= 0 && upper >= 0)) return Number.NaN;
  if (lower === 0) return 0;
  if (upper === 0) return Number.POSITIVE_INFINITY;
  const density = (x: number) => gammaFactor(v / 2, x / 2) / x;
  const start = firstGuess(lower, upper, v);
  return lower <= upper
    ? invertProbability(lower, (x) => chiSquareProbability(x, v), density, 'rising', start)
    : invertProbability(upper, (x) => chiSquareTail(x, v), density, 'falling', start);
}

/** Wilson and Hilferty's cube, Proc. Natl. Acad. Sci. 17 (1931) 684, or the power law near 0. */
function firstGuess(lower: number, upper: number, v: number): number {
  const z = lower <= upper ? normalQuantile(lower) : -normalQuantile(upper);
  const root = 1 - 2 / (9 * v) + z * Math.sqrt(2 / (9 * v));
  if (root > 0.2) return v * root * root * root;
  // P ≈ factor(x)/(v/2) near 0, and the factor goes as x^(v/2).
  const a = v / 2;
  const tiny = 1e-8 * v;
  const guess = tiny * power((lower * a) / gammaFactor(a, tiny / 2), 1 / a);
  return Math.max(guess, 1e-300);
}
