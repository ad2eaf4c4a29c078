import { ln, lnOfOneMore } from '../wasm/index.ts';

// The factors of gamma and beta densities in a form that loses no digits for large arguments.
// Source: Loader, Fast and Accurate Computation of Binomial Probabilities, 2000 (saddle-point expansion).

const SERIES_FROM = 16;

/**
 * ln Γ(n + 1) minus Stirling's formula ½·ln(2πn) + n·ln n − n, for n > 0.
 *
 * Asymptotic series (Abramowitz and Stegun 6.1.41) from 16 on, reached by recurrence from below.
 */
export function stirlingError(n: number): number {
  let shifted = n;
  let sum = 0;
  while (shifted < SERIES_FROM) {
    sum += (shifted + 0.5) * lnOfOneMore(1 / shifted) - 1;
    shifted += 1;
  }
  const r = 1 / (shifted * shifted);
  const series =
    (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - r * (691 / 360360)))))) /
    shifted;
  return sum + series;
}

/** ln(1 + v) − v for |v| ≤ 0.4, without cancellation near 0. */
function logOnePlusMinus(v: number): number {
  const r = v / (2 + v);
  const square = r * r;
  let power = 1;
  let sum = 0;
  for (let odd = 3; odd < 60; odd += 2) {
    const term = power / odd;
    sum += term;
    if (term < 1e-17 * sum) break;
    power *= square;
  }
  return r * (2 * square * sum - v);
}

/**
 * x·ln(x/m) + m − x for x, m > 0: how far x lies from m, without cancellation where they are close.
 *
 * @param excess x − m, by the caller's best formula: it is often known better than by subtraction
 */
export function deviance(x: number, m: number, excess: number): number {
  const v = excess / m;
  if (Math.abs(v) > 0.4) return x * ln(x / m) - excess;
  return m * ((1 + v) * logOnePlusMinus(v) + v * v);
}
