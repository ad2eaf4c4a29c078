import { scaleLinear } from 'd3-scale';
import type { Numbers } from './figure.ts';

/** More bars than this are finer than the eye compares. */
const MOST_BARS = 40;

export interface Histogram {
  /** n + 1 round values. */
  readonly edges: readonly number[];
  readonly counts: readonly number[];
}

/**
 * Counts values in classes of equal, round width; values on an edge count above it.
 *
 * The width is near 2·(interquartile range)/n^(1/3).
 * Source: D. Freedman, P. Diaconis, Z. Wahrscheinlichkeitstheorie verw. Gebiete 57 (1981) 453, doi:10.1007/BF01025868
 */
export function histogram(values: Numbers): Histogram {
  const sorted = Float64Array.from(values).filter(Number.isFinite).sort();
  const n = sorted.length;
  if (n === 0) return { edges: [0, 1], counts: [0] };
  const low = sorted[0];
  const high = sorted[n - 1];
  if (low === high) {
    const half = Math.max(Math.abs(low) * 0.01, 1e-290);
    return { edges: [low - half, low + half], counts: [n] };
  }
  const quartiles = sorted[Math.floor(0.75 * (n - 1))] - sorted[Math.floor(0.25 * (n - 1))];
  const width = (2 * quartiles) / Math.cbrt(n);
  const wanted = width > 0 ? (high - low) / width : Math.sqrt(n);
  const count = Math.min(MOST_BARS, Math.max(5, Math.round(wanted)));
  const inner = scaleLinear([low, high], [0, 1]).ticks(count);
  const step = inner.length < 2 ? high - low : inner[1] - inner[0];
  const edges = [...inner];
  if (edges.length === 0) edges.push(low);
  while (edges[0] > low) edges.unshift(edges[0] - step);
  while (edges[edges.length - 1] <= high) edges.push(edges[edges.length - 1] + step);
  const counts = new Array<number>(edges.length - 1).fill(0);
  let bar = 0;
  for (const value of sorted) {
    while (bar < counts.length - 1 && value >= edges[bar + 1]) bar += 1;
    counts[bar] += 1;
  }
  return { edges, counts };
}
