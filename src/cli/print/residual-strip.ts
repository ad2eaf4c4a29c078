import type { Page } from './page.ts';

/** Characters that a strip of residuals takes. */
const stripWidth = 24;

/** A mean below this share of the means' root mean square counts as none. */
const negligible = 0.15;

/**
 * Residuals as a strip of signs, in the order of the readings: '+' and '−', '·' where there is next to none. A curve
 * that the fit misses shows as long runs of one sign; scatter shows as a mixture.
 *
 * Neighbours are averaged where there are more residuals than characters.
 */
export function printResiduals(page: Page, residuals: Float64Array): string {
  const { length } = residuals;
  const cells = Math.min(stripWidth, length);
  const means = Array.from({ length: cells }, (_, cell) => {
    const from = Math.floor((cell * length) / cells);
    const to = Math.max(Math.floor(((cell + 1) * length) / cells), from + 1);
    return residuals.subarray(from, to).reduce((sum, value) => sum + value, 0) / (to - from);
  });
  const rms = Math.sqrt(means.reduce((sum, mean) => sum + mean * mean, 0) / Math.max(cells, 1));
  const nothing = page.plain('−') === '-' ? '.' : '·';
  return means
    .map((mean) => (Math.abs(mean) > negligible * rms ? page.plain(mean > 0 ? '+' : '−') : nothing))
    .join('');
}
