import { fivePointGauss } from '../engine/index.ts';
import { nextBefore } from './sample-times.ts';
import type { MotionSource } from './source.ts';

/**
 * Mean of a signal over an exposure, cut at the breaks within it.
 *
 * Exact for a signal that is a polynomial of degree 9 between breaks; a camera's exposure is short against all
 * that moves.
 */
export function meanOverExposure(source: MotionSource, fromS: number, toS: number): number {
  let integral = 0;
  let left = fromS;
  for (const t of source.breaks) {
    if (t <= left) continue;
    if (t >= toS) break;
    integral += integralOver(source, left, t);
    left = t;
  }
  integral += integralOver(source, left, toS);
  return integral / (toS - fromS);
}

function integralOver(source: MotionSource, left: number, right: number): number {
  const half = (right - left) / 2;
  const middle = left + half;
  let sum = 0;
  for (const [place, weight] of fivePointGauss) {
    sum += weight * source.valueAt(Math.min(middle + half * place, nextBefore(right)));
  }
  return sum * half;
}
