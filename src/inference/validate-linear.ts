import type { CoverageInterval } from './coverage-interval.ts';
import { numericalTolerance } from './numerical-tolerance.ts';
import { coverageFactor } from './propagate-linear.ts';

/** Whether the linear propagation can stand beside the draws. */
export interface LinearValidation {
  /** value ∓ coverage factor·u. */
  readonly linear: CoverageInterval;
  /** |difference| of the lower and upper ends. */
  readonly lowDifference: number;
  readonly highDifference: number;
  /** Half a unit of the last stated digit of u. */
  readonly tolerance: number;
  readonly agrees: boolean;
}

/**
 * Compares the coverage interval of linear propagation with that of Monte Carlo draws.
 *
 * @param drawn  interval at the same level, from enough draws (adaptive ones)
 * @param digits significant digits of u that matter, 1 or 2
 * Source: JCGM 101:2008, 8.1
 */
export function validateLinear(
  value: number,
  standardUncertainty: number,
  degreesOfFreedom: number,
  drawn: CoverageInterval,
  level: number,
  digits: number,
): LinearValidation {
  const half = coverageFactor(degreesOfFreedom, level) * standardUncertainty;
  const linear = { low: value - half, high: value + half };
  const tolerance = numericalTolerance(standardUncertainty, digits);
  const lowDifference = Math.abs(linear.low - drawn.low);
  const highDifference = Math.abs(linear.high - drawn.high);
  const agrees = lowDifference <= tolerance && highDifference <= tolerance;
  return { linear, lowDifference, highDifference, tolerance, agrees };
}
