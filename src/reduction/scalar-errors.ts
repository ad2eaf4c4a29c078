import type { Dimension } from '../quantity/index.ts';
import type { ErrorPart, ErrorSource, Scalar } from './state.ts';

/**
 * A scalar Σ factor·scalar, to first order, with its uncertainty.
 *
 * Parts of one source are added with their covariance, those of different sources as independent; the degrees
 * of freedom are the effective ones.
 * Source: JCGM 100:2008, 5.2.2 and G.4.1 (Welch–Satterthwaite).
 */
export function combineErrors(
  value: number,
  dimension: Dimension,
  terms: readonly { readonly errors: readonly ErrorPart[]; readonly factor: number }[],
): Scalar {
  const bySource = new Map<ErrorSource, Float64Array>();
  for (const { errors, factor } of terms) {
    for (const { source, coefficients } of errors) {
      const sum = bySource.get(source) ?? new Float64Array(coefficients.length);
      for (let j = 0; j < coefficients.length; j++) sum[j] += factor * coefficients[j];
      bySource.set(source, sum);
    }
  }
  return withErrors(
    value,
    dimension,
    Array.from(bySource, ([source, coefficients]) => ({ source, coefficients })),
  );
}

/** A scalar with the parts of its error, each source once. */
export function withErrors(value: number, dimension: Dimension, errors: readonly ErrorPart[]): Scalar {
  let variance = 0;
  let weighted = 0;
  for (const { source, coefficients } of errors) {
    let part = 0;
    for (const coefficient of coefficients) part += coefficient * coefficient;
    variance += part;
    weighted += (part * part) / source.degreesOfFreedom;
  }
  return {
    value,
    standardUncertainty: Math.sqrt(variance),
    degreesOfFreedom: weighted > 0 ? (variance * variance) / weighted : Infinity,
    dimension,
    errors,
  };
}

/**
 * The scalars of one fit, so that later steps know their covariance.
 *
 * @param covariance k×k, row-major, positive semidefinite
 */
export function scalarsOfFit(
  values: ArrayLike<number>,
  dimensions: readonly Dimension[],
  covariance: Float64Array,
  degreesOfFreedom: number,
): readonly Scalar[] {
  const k = dimensions.length;
  const factor = triangularFactor(covariance, k);
  const source: ErrorSource = { degreesOfFreedom };
  return dimensions.map((dimension, j) =>
    withErrors(values[j], dimension, [{ source, coefficients: factor.slice(j * k, (j + 1) * k) }]),
  );
}

/** Lower triangular L with L·Lᵀ the covariance (Cholesky); a direction without variance has a zero column. */
function triangularFactor(covariance: Float64Array, k: number): Float64Array {
  const factor = new Float64Array(k * k);
  for (let j = 0; j < k; j++) {
    let rest = covariance[j * k + j];
    for (let m = 0; m < j; m++) rest -= factor[j * k + m] ** 2;
    // Rounding of a variance that the earlier parameters explain in full leaves a small number of either sign.
    const pivot = rest > 1e-14 * covariance[j * k + j] ? Math.sqrt(rest) : 0;
    factor[j * k + j] = Number.isNaN(rest) ? Number.NaN : pivot;
    for (let i = j + 1; i < k; i++) {
      let sum = covariance[i * k + j];
      for (let m = 0; m < j; m++) sum -= factor[i * k + m] * factor[j * k + m];
      factor[i * k + j] = pivot > 0 ? sum / pivot : 0;
    }
  }
  return factor;
}
