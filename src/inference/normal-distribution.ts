import { exp } from '../wasm/index.ts';
import { incompleteGamma } from './incomplete-gamma.ts';

const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);

/** e^(−z²/2) without the rounding of z² that costs digits in far tails. */
function bell(z: number): number {
  const coarse = Math.round(z * 16) / 16;
  const rest = z - coarse;
  return exp(-0.5 * coarse * coarse) * exp(-0.5 * rest * (z + coarse));
}

/** Density of the standard normal distribution. */
export function normalDensity(z: number): number {
  return bell(z) / SQRT_TWO_PI;
}

/**
 * Probability that a standard normal variable exceeds z.
 *
 * Relative error below 1e-13 down to the smallest doubles; the lower tail is `normalTail(-z)`.
 * Incomplete gamma series near 0; Laplace's continued fraction beyond (DLMF 7.9.1).
 */
export function normalTail(z: number): number {
  if (Number.isNaN(z)) return Number.NaN;
  const size = Math.abs(z);
  if (size < 2.5) {
    const tails = incompleteGamma(0.5, (z * z) / 2);
    return z < 0 ? 1 - tails.upper / 2 : tails.upper / 2;
  }
  if (size > 40) return z < 0 ? 1 : 0;
  let fraction = size;
  for (let k = Math.ceil(8 + 400 / size); k >= 1; k -= 1) fraction = size + k / fraction;
  const tail = normalDensity(size) / fraction;
  return z < 0 ? 1 - tail : tail;
}

/** Probability that a standard normal variable falls below z. */
export function normalProbability(z: number): number {
  return normalTail(-z);
}
