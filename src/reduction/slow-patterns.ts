import { fTail } from '../inference/index.ts';
import { cosine } from '../wasm/index.ts';
import type { ErrorShape } from './error-shape.ts';
import { dot, type TriangularDesign } from './orthonormal-design.ts';

const PATTERNS = 4;
const LEAST_FREEDOM = 8;

/** How strong the residuals are along slow patterns. */
export interface SlowPatterns {
  /** Mean square along the patterns, over what the covariance of the readings lets expect. */
  readonly ratio: number;
  readonly count: number;
  /** Chance of a ratio at least as large. */
  readonly chance: number;
}

/**
 * Compares the residuals of a fit with the slowest half waves over the rows that the fit does not take up.
 *
 * @param residuals        weighted as the design
 * @param shape            covariance V of the weighted readings, up to `factor`
 * @param degreesOfFreedom with which `factor` is known
 * @returns null where there are too few readings to tell
 * Source: U. K. Müller, J. Bus. Econ. Stat. 32 (2014) 311, doi:10.1080/07350015.2014.931238 (from memory)
 */
export function compareWithSlowPatterns(
  residuals: Float64Array,
  design: TriangularDesign,
  shape: ErrorShape,
  factor: number,
  degreesOfFreedom: number,
): SlowPatterns | null {
  if (degreesOfFreedom < LEAST_FREEDOM || !(factor > 0)) return null;
  const patterns = patternsBesides(design);
  const count = patterns.length;
  if (count === 0) return null;
  // Along patterns the residuals hang together as V has it; each is compared with what is left of the ones before.
  const gathered = patterns.map((pattern) => shape.gather(pattern));
  const lower = new Float64Array(count * count);
  const independent = new Float64Array(count);
  let sum = 0;
  for (let a = 0; a < count; a++) {
    for (let b = 0; b <= a; b++) {
      let entry = shape.covariance(patterns[a], gathered[a], patterns[b], gathered[b]);
      for (let m = 0; m < b; m++) entry -= lower[a * count + m] * lower[b * count + m];
      lower[a * count + b] = a === b ? Math.sqrt(entry) : entry / lower[b * count + b];
    }
    let left = dot(patterns[a], residuals);
    for (let m = 0; m < a; m++) left -= lower[a * count + m] * independent[m];
    independent[a] = left / lower[a * count + a];
    sum += independent[a] ** 2 / factor;
  }
  const ratio = sum / count;
  if (!Number.isFinite(ratio)) return null;
  return { ratio, count, chance: fTail(ratio, count, degreesOfFreedom) };
}

/** Orthonormal half waves, the slowest first, without those that the fitted parameters mostly take up. */
function patternsBesides(design: TriangularDesign): Float64Array[] {
  const n = design.q[0].length;
  const patterns: Float64Array[] = [];
  for (let j = 1; patterns.length < PATTERNS && j <= PATTERNS + design.q.length && 2 * j < n; j++) {
    const pattern = Float64Array.from(
      { length: n },
      (_, i) => cosine((Math.PI * j * (i + 0.5)) / n) * Math.sqrt(2 / n),
    );
    for (const direction of [...design.q, ...patterns]) {
      const share = dot(direction, pattern);
      for (let i = 0; i < n; i++) pattern[i] -= share * direction[i];
    }
    const left = Math.sqrt(dot(pattern, pattern));
    if (left >= 0.5) patterns.push(pattern.map((each) => each / left));
  }
  return patterns;
}
