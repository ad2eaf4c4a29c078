import { exp, expLessOne } from '../wasm/index.ts';
/** How the lagged value at the end of an interval comes from that at its beginning and the signal within. */
export interface ExponentialWeights {
  /** Share of the value at the beginning that is left: e^(−z). */
  readonly keeps: number;
  /** Of the signal at 0, ¼, ½, ¾, 1 of the interval, taken as a quartic. */
  readonly quartic: readonly number[];
  /** Of the signal at 0, ½, 1, taken as a parabola. */
  readonly parabola: readonly number[];
}

/**
 * Weights that integrate z·∫₀¹ e^(−z(1−s)) x(s) ds exactly for a quartic (a parabola) x.
 *
 * @param z length of the interval over the time constant, > 0
 * @accuracy about 1e-14
 */
export function exponentialWeights(z: number): ExponentialWeights {
  const moments = exponentialMoments(z);
  return {
    keeps: exp(-z),
    quartic: QUARTIC_BASIS.map((polynomial) => weigh(polynomial, moments)),
    parabola: PARABOLA_BASIS.map((polynomial) => weigh(polynomial, moments)),
  };
}

/** Coefficients of 1, s, s² … of the polynomials that are 1 at one of 0, ¼, ½, ¾, 1 and 0 at the others. */
const QUARTIC_BASIS = [
  [1, -25 / 3, 70 / 3, -80 / 3, 32 / 3],
  [0, 16, -208 / 3, 96, -128 / 3],
  [0, -12, 76, -128, 64],
  [0, 16 / 3, -112 / 3, 224 / 3, -128 / 3],
  [0, -1, 22 / 3, -16, 32 / 3],
];
const PARABOLA_BASIS = [
  [1, -3, 2],
  [0, 4, -4],
  [0, -1, 2],
];

function weigh(polynomial: readonly number[], moments: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < polynomial.length; k++) sum += polynomial[k] * moments[k];
  return sum;
}

/** mₖ = z·∫₀¹ e^(−z(1−s)) sᵏ ds for k = 0 … 4. */
function exponentialMoments(z: number): number[] {
  if (z > 8) {
    // Upwards mₖ = 1 − (k/z)·mₖ₋₁ multiplies rounding by k/z < 1.
    const moments = [-expLessOne(-z)];
    for (let k = 1; k <= 4; k++) moments.push(1 - (k / z) * moments[k - 1]);
    return moments;
  }
  // Series of all-positive terms: e^(−z)·z·Σ zⁿ/(n!·(n + k + 1)).
  const moments = [];
  for (let k = 0; k <= 4; k++) {
    let term = 1;
    let sum = 0;
    for (let n = 0; n < 80; n++) {
      const part = term / (n + k + 1);
      sum += part;
      if (part < 1e-18 * sum) break;
      term *= z / (n + 1);
    }
    moments.push(exp(-z) * z * sum);
  }
  return moments;
}
