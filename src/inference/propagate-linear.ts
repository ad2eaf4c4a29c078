import type { Estimate } from '../quantity/index.ts';
import { type Correlation, correlatedGroups } from './correlations.ts';
import { studentQuantile } from './student-distribution.ts';

/** What one input contributes to the uncertainty of the output. */
export interface Contribution {
  /** |sensitivity|·u, in the unit of the output. */
  readonly uncertainty: number;
  /**
   * Part of the output's variance. With correlations an input's own square and half of each of its products
   * with others: the shares add up to 1, and one can be negative.
   */
  readonly share: number;
}

export interface LinearPropagation {
  readonly standardUncertainty: number;
  /** Effective, by Welch and Satterthwaite; Infinity where all inputs are known so. */
  readonly degreesOfFreedom: number;
  /** One an input, in their order. */
  readonly budget: readonly Contribution[];
}

/**
 * Standard uncertainty of an output that depends on the inputs through a gradient: the law of propagation.
 *
 * @param gradient  ∂output/∂input at the estimates, k values
 * @param estimates k inputs
 * Correlated inputs count as one component for the degrees of freedom, with the fewest among its members (all
 * have the same where they were read together).
 * Source: JCGM 100:2008, equations (10), (13) and (G.2b)
 */
export function propagateLinear(input: {
  readonly gradient: ArrayLike<number>;
  readonly estimates: readonly Estimate[];
  readonly correlations?: readonly Correlation[];
}): LinearPropagation {
  const { gradient, estimates, correlations = [] } = input;
  const k = estimates.length;
  if (gradient.length !== k) throw new RangeError(`A gradient of ${gradient.length} for ${k} inputs.`);
  const parts = new Float64Array(k);
  const variances = new Float64Array(k);
  for (let i = 0; i < k; i += 1) {
    parts[i] = gradient[i] * estimates[i].standardUncertainty;
    // Where nothing is uncertain an unbounded sensitivity changes nothing.
    if (estimates[i].standardUncertainty === 0) parts[i] = 0;
    variances[i] = parts[i] * parts[i];
  }
  for (const {
    between: [first, second],
    is: coefficient,
  } of correlations) {
    const shared = coefficient * parts[first] * parts[second];
    variances[first] += shared;
    variances[second] += shared;
  }
  let variance = 0;
  for (const value of variances) variance += value;
  const components = correlatedGroups(k, correlations).map((group) => {
    let sum = 0;
    let fewest = Number.POSITIVE_INFINITY;
    for (const i of group) {
      sum += variances[i];
      if (parts[i] !== 0) fewest = Math.min(fewest, estimates[i].degreesOfFreedom);
    }
    return { standardUncertainty: Math.sqrt(Math.max(0, sum)), degreesOfFreedom: fewest };
  });
  return {
    standardUncertainty: Math.sqrt(Math.max(0, variance)),
    degreesOfFreedom: welchSatterthwaite(components),
    budget: Array.from(parts, (part, i) => ({
      uncertainty: Math.abs(part),
      share: variance > 0 ? variances[i] / variance : 0,
    })),
  };
}

/**
 * Covariance matrix of m outputs from that of k inputs: J·V·Jᵀ.
 *
 * @param jacobian   m×k, row-major
 * @param covariance k×k, row-major
 * @returns m×m, row-major, exactly symmetric
 * Source: JCGM 102:2011, 6.2.1.3
 */
export function propagateCovariance(
  jacobian: Float64Array,
  covariance: Float64Array,
  m: number,
  k: number,
): Float64Array {
  const half = new Float64Array(m * k);
  for (let i = 0; i < m; i += 1) {
    for (let j = 0; j < k; j += 1) {
      let sum = 0;
      for (let l = 0; l < k; l += 1) sum += jacobian[i * k + l] * covariance[l * k + j];
      half[i * k + j] = sum;
    }
  }
  const out = new Float64Array(m * m);
  for (let i = 0; i < m; i += 1) {
    for (let j = i; j < m; j += 1) {
      let sum = 0;
      for (let l = 0; l < k; l += 1) sum += half[i * k + l] * jacobian[j * k + l];
      out[i * m + j] = sum;
      out[j * m + i] = sum;
    }
  }
  return out;
}

/**
 * Effective degrees of freedom of a sum of independent components.
 *
 * @returns u⁴/Σ(uᵢ⁴/νᵢ), not rounded; Infinity where every component is known so, or none is uncertain
 * Source: Welch 1947, Satterthwaite 1946, in JCGM 100:2008, equation (G.2b)
 */
export function welchSatterthwaite(
  components: readonly { readonly standardUncertainty: number; readonly degreesOfFreedom: number }[],
): number {
  let variance = 0;
  for (const { standardUncertainty } of components) variance += standardUncertainty * standardUncertainty;
  if (variance === 0) return Number.POSITIVE_INFINITY;
  let sum = 0;
  for (const { standardUncertainty, degreesOfFreedom } of components) {
    const share = (standardUncertainty * standardUncertainty) / variance;
    sum += (share * share) / degreesOfFreedom;
  }
  return sum === 0 ? Number.POSITIVE_INFINITY : 1 / sum;
}

/**
 * Factor by which a standard uncertainty is multiplied for a coverage interval of the given level.
 *
 * @param degreesOfFreedom effective, need not be whole; truncate it first to follow JCGM 100, G.4.1, note 1
 * @param level 0 to 1, such as 0.95
 */
export function coverageFactor(degreesOfFreedom: number, level: number): number {
  if (!(level > 0 && level < 1))
    throw new RangeError(`A coverage level lies between 0 and 1; found ${level}.`);
  return -studentQuantile((1 - level) / 2, degreesOfFreedom);
}
