import { exp, ln, lnOfOneMore } from '../wasm/index.ts';
/**
 * The x > 0 at which a monotone probability takes a given value.
 *
 * Newton's method for the logarithm of the probability against the logarithm of x, where both ends of the
 * distributions here are nearly straight, kept inside a bracket that halves when Newton leaves it.
 *
 * @param target       0 < target < 1
 * @param probability  monotone in x over (0, ∞)
 * @param density      |d probability/dx|
 * @param start        a first guess > 0
 */
export function invertProbability(
  target: number,
  probability: (x: number) => number,
  density: (x: number) => number,
  direction: 'rising' | 'falling',
  start: number,
): number {
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let x = start;
  let lastChange = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 400; round += 1) {
    const p = probability(x);
    if (p === target) return x;
    const tooFar = direction === 'rising' ? p > target : p < target;
    if (tooFar) high = x;
    else low = x;
    const slope = density(x) * x;
    // Near the target the plain difference is exact where the logarithm of the ratio is not.
    const gap = Math.abs(p - target) < 0.1 * target ? lnOfOneMore((p - target) / target) : ln(p / target);
    const step = ((direction === 'rising' ? -gap : gap) * p) / slope;
    let next = x * exp(Math.max(-5, Math.min(5, step)));
    if (!(next > low && next < high)) next = middle(low, high, x);
    const change = Math.abs(next - x);
    if (change <= 2e-16 * x || (change < 1e-13 * x && change >= lastChange)) return next;
    lastChange = change;
    x = next;
  }
  return x;
}

function middle(low: number, high: number, x: number): number {
  if (high === Number.POSITIVE_INFINITY) return x * 8;
  return low > 0 ? Math.sqrt(low) * Math.sqrt(high) : high / 8;
}
