/** An interval that holds a stated part of a distribution. */
export interface CoverageInterval {
  readonly low: number;
  readonly high: number;
}

/**
 * The interval with equal parts of the draws below and above it.
 *
 * @param sorted M draws in rising order, finite
 * @param level  0 to 1; M·(1 − level) should be well above 1
 * Source: JCGM 101:2008, 7.7.2
 */
export function symmetricInterval(sorted: Float64Array, level: number): CoverageInterval {
  const { last, covered } = coveredCount(sorted, level);
  const below = (last - covered) / 2;
  const start = Number.isInteger(below) ? below : below + 0.5;
  return { low: sorted[start], high: sorted[Math.min(last, start + covered)] };
}

/**
 * The shortest interval that holds the stated part of the draws.
 *
 * Source: JCGM 101:2008, 7.7.4
 */
export function shortestInterval(sorted: Float64Array, level: number): CoverageInterval {
  const { last, covered } = coveredCount(sorted, level);
  let best = 0;
  for (let start = 1; start + covered <= last; start += 1) {
    if (sorted[start + covered] - sorted[start] < sorted[best + covered] - sorted[best]) best = start;
  }
  return { low: sorted[best], high: sorted[best + covered] };
}

function coveredCount(sorted: Float64Array, level: number): { last: number; covered: number } {
  const last = sorted.length - 1;
  return { last, covered: Math.min(last, Math.floor(level * sorted.length + 0.5)) };
}
