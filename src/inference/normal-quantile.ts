import {
  CENTRE_DENOMINATOR,
  CENTRE_NUMERATOR,
  SHOULDER_DENOMINATOR,
  SHOULDER_NUMERATOR,
  TAIL_DENOMINATOR,
  TAIL_NUMERATOR,
} from './normal-quantile-coefficients.ts';
import { portableLog } from './portable-log.ts';

/**
 * The z below which a standard normal variable falls with probability p.
 *
 * @param p probability, 0 to 1; −∞ and +∞ at the ends, NaN outside
 * Relative error about 1e-16. For small upper tails q use `-normalQuantile(q)`, which loses nothing.
 * Only additions, multiplications, divisions and square roots: the same bits on every machine.
 * Source: Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477–484
 */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(CENTRE_NUMERATOR, r)) / polynomial(CENTRE_DENOMINATOR, r);
  }
  const tail = q < 0 ? p : 1 - p;
  if (!(tail > 0))
    return tail === 0 ? (q < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY) : Number.NaN;
  const r = Math.sqrt(-portableLog(tail));
  const size =
    r <= 5
      ? polynomial(SHOULDER_NUMERATOR, r - 1.6) / polynomial(SHOULDER_DENOMINATOR, r - 1.6)
      : polynomial(TAIL_NUMERATOR, r - 5) / polynomial(TAIL_DENOMINATOR, r - 5);
  return q < 0 ? -size : size;
}

function polynomial(c: readonly [number, number, number, number, number, number, number, number], x: number) {
  return ((((((c[7] * x + c[6]) * x + c[5]) * x + c[4]) * x + c[3]) * x + c[2]) * x + c[1]) * x + c[0];
}
