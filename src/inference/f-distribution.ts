import { betaFactor, incompleteBeta } from './incomplete-beta.ts';
import type { Tails } from './incomplete-gamma.ts';
import { invertProbability } from './invert-probability.ts';

/**
 * Probability that Fisher's F exceeds x.
 *
 * @param upperFreedom, lowerFreedom degrees of freedom of numerator and denominator, > 0
 * Relative error about 1e-14.
 */
export function fTail(x: number, upperFreedom: number, lowerFreedom: number): number {
  return x <= 0 ? 1 : bothTails(x, upperFreedom, lowerFreedom).upper;
}

/** Probability that Fisher's F falls below x, without loss in the lower tail. */
export function fProbability(x: number, upperFreedom: number, lowerFreedom: number): number {
  return x <= 0 ? 0 : bothTails(x, upperFreedom, lowerFreedom).lower;
}

/** The x below which Fisher's F falls with probability p, 0 ≤ p ≤ 1. */
export function fQuantile(p: number, upperFreedom: number, lowerFreedom: number): number {
  return fromTails(p, 1 - p, upperFreedom, lowerFreedom);
}

/** The x that Fisher's F exceeds with probability q: for tails too small for 1 − q. */
export function fUpperQuantile(q: number, upperFreedom: number, lowerFreedom: number): number {
  return fromTails(1 - q, q, upperFreedom, lowerFreedom);
}

function share(x: number, v1: number, v2: number): { x: number; y: number } {
  const ratio = (v1 / v2) * x;
  return ratio < 1
    ? { x: ratio / (1 + ratio), y: 1 / (1 + ratio) }
    : { x: 1 / (1 + 1 / ratio), y: 1 / ratio / (1 + 1 / ratio) };
}

function bothTails(x: number, v1: number, v2: number): Tails {
  const part = share(x, v1, v2);
  return incompleteBeta(v1 / 2, v2 / 2, part.x, part.y);
}

function fromTails(lower: number, upper: number, v1: number, v2: number): number {
  if (!(v1 > 0 && v2 > 0 && lower >= 0 && upper >= 0)) return Number.NaN;
  if (lower === 0) return 0;
  if (upper === 0) return Number.POSITIVE_INFINITY;
  const density = (x: number) => {
    const part = share(x, v1, v2);
    return betaFactor(v1 / 2, v2 / 2, part.x, part.y) / x;
  };
  return lower <= upper
    ? invertProbability(lower, (x) => fProbability(x, v1, v2), density, 'rising', 1)
    : invertProbability(upper, (x) => fTail(x, v1, v2), density, 'falling', 1);
}
