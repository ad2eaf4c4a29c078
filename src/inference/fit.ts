import type { Place, Problem } from '../problem/index.ts';

/** What every fit tells. */
export interface Fit {
  /** k values. */
  readonly parameters: Float64Array;
  /** k×k, row-major, in the products of the parameters' units. */
  readonly covariance: Float64Array;
  /** k values; NaN for a parameter held at a bound, infinite for one that the readings say nothing about. */
  readonly standardUncertainties: Float64Array;
  /** Σ (residual/stated uncertainty)², or Σ residual² where none is stated. */
  readonly sumOfSquares: number;
  /** √(sumOfSquares/degreesOfFreedom); of a robust fit its robust counterpart. */
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
  /** reading − fitted value, n values in the unit of the readings. */
  readonly residuals: Float64Array;
  /** sumOfSquares/degreesOfFreedom where uncertainties are stated, else null. */
  readonly reducedChiSquare: number | null;
  /**
   * 'scatter': the covariance is scaled by the spread of the residuals; 'stated': it follows from the stated
   * uncertainties alone, whatever the residuals are.
   */
  readonly uncertaintyFrom: 'scatter' | 'stated';
  readonly warnings: readonly Problem[];
}

export interface FitOptions {
  /** Standard uncertainty of each reading, > 0, or one for all. */
  readonly uy?: ArrayLike<number> | number;
  /**
   * Whether the parameters' uncertainties come from the stated uncertainties (the default where `uy` is given)
   * or from the scatter; with 'scatter' a given `uy` only weights the readings.
   */
  readonly uncertaintyFrom?: 'scatter' | 'stated';
  /** What the parameters are called in messages. */
  readonly names?: readonly string[];
  /** Where the fit stands in the work, for messages. */
  readonly place?: Place;
}

export interface LineOptions extends FitOptions {
  /** Standard uncertainty of each x, or one for all; makes it a fit with errors in both. */
  readonly ux?: ArrayLike<number> | number;
  /** Correlation of the errors of x and y of a reading, −1 to 1; with `ux` and `uy` only. */
  readonly correlation?: ArrayLike<number> | number;
  /** A line through the origin: the slope is then the only parameter. Not with `ux`. */
  readonly throughOrigin?: boolean;
}

/** The parts of a fit that all methods finish alike. */
export function finishFit(found: {
  readonly parameters: Float64Array;
  /** Inverse of the weighted normal matrix, k×k. */
  readonly inverse: Float64Array;
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
  readonly residuals: Float64Array;
  readonly stated: boolean;
  readonly uncertaintyFrom: 'scatter' | 'stated';
  readonly warnings: readonly Problem[];
  /** Residual variance where it is not the plain one: robust fits. */
  readonly variance?: number;
}): Fit {
  const { parameters, inverse, sumOfSquares, degreesOfFreedom } = found;
  const k = parameters.length;
  const perFreedom = degreesOfFreedom > 0 ? sumOfSquares / degreesOfFreedom : Number.NaN;
  const variance = found.variance ?? perFreedom;
  const scale = found.uncertaintyFrom === 'scatter' ? variance : 1;
  const covariance = inverse.map((entry) => entry * scale);
  const standardUncertainties = new Float64Array(k);
  for (let j = 0; j < k; j += 1) standardUncertainties[j] = Math.sqrt(covariance[j * k + j]);
  return {
    parameters,
    covariance,
    standardUncertainties,
    sumOfSquares,
    residualSd: Math.sqrt(variance),
    degreesOfFreedom,
    residuals: found.residuals,
    reducedChiSquare: found.stated ? perFreedom : null,
    uncertaintyFrom: found.uncertaintyFrom,
    warnings: found.warnings,
  };
}
