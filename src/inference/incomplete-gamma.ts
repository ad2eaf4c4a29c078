import { exp } from '../wasm/index.ts';
import { deviance, stirlingError } from './gamma-pieces.ts';

/** Both parts of a probability that add up to 1, each to full relative accuracy. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
}

const MOST_TERMS = 200_000;

/** xᵃ·e⁻ˣ/Γ(a), the density of the gamma distribution times x. */
export function gammaFactor(a: number, x: number): number {
  return Math.sqrt(a / (2 * Math.PI)) * exp(-stirlingError(a) - deviance(a, x, a - x));
}

/**
 * Regularised incomplete gamma functions P(a, x) and Q(a, x), for a > 0 and x ≥ 0.
 *
 * Power series below x = a + 1, continued fraction above (DLMF 8.7.1, 8.9.2; Lentz's method as modified by
 * Thompson and Barnett, J. Comput. Phys. 64 (1986) 490–509). Relative error about 1e-14, growing with the
 * logarithm of a far tail's smallness.
 */
export function incompleteGamma(a: number, x: number): Tails {
  if (!(x > 0)) return x === 0 ? { lower: 0, upper: 1 } : { lower: Number.NaN, upper: Number.NaN };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const factor = gammaFactor(a, x);
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < MOST_TERMS && term > sum * 1e-17; n += 1) {
      term *= x / (a + n);
      sum += term;
    }
    const lower = factor * sum;
    return { lower, upper: 1 - lower };
  }
  let b = x + 1 - a;
  let c = Number.MAX_VALUE;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < MOST_TERMS; n += 1) {
    const numerator = -n * (n - a);
    b += 2;
    d = 1 / awayFromZero(numerator * d + b);
    c = awayFromZero(b + numerator / c);
    const change = d * c;
    fraction *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  const upper = factor * fraction;
  return { lower: 1 - upper, upper };
}

/** Lentz's method divides by what it has just found: a zero is moved off zero. */
export function awayFromZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}
