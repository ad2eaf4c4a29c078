import { choleskyFactor, correlationMatrix } from '../inference/index.ts';
import type { BaseQuantity, Lab } from '../lab/index.ts';

/** L with L·Lᵀ the correlation matrix of the parameters, m × m: the deviations in standard uncertainties are L·ξ, ξ independent. */
export function factorPriors(lab: Lab, parameters: readonly BaseQuantity[]): Float64Array {
  const placeOf = new Map(parameters.map(({ index }, place) => [index, place]));
  const correlations = lab.correlations.flatMap(({ between: [first, second], is }) => {
    const a = placeOf.get(first);
    const b = placeOf.get(second);
    return a === undefined || b === undefined ? [] : [{ between: [a, b] as const, is }];
  });
  const factor = choleskyFactor(correlationMatrix(parameters.length, correlations), parameters.length);
  if (factor === null)
    throw new TypeError('correlations that cannot all be true are refused when a lab is read');
  return factor;
}

/** L·vector. */
export function applyFactor(factor: Float64Array, vector: ArrayLike<number>): Float64Array {
  const size = vector.length;
  return Float64Array.from({ length: size }, (_, i) => {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += factor[i * size + j] * vector[j];
    return sum;
  });
}

/** Parameters and covariance of a fit, m and m × m, in standard uncertainties of the priors. */
export interface Posterior {
  readonly parameters: Float64Array;
  readonly covariance: Float64Array;
  readonly sumOfSquares: number;
}

/** From the independent ξ of the fit to the deviations of the quantities in standard uncertainties: L·ξ and L·C·Lᵀ. */
export function correlatePosterior(fitted: Posterior, priors: Float64Array): Posterior {
  const size = fitted.parameters.length;
  const half = new Float64Array(size * size);
  for (let row = 0; row < size; row++)
    half.set(applyFactor(priors, fitted.covariance.subarray(row * size, (row + 1) * size)), row * size);
  const covariance = new Float64Array(size * size);
  for (let column = 0; column < size; column++) {
    const whole = applyFactor(
      priors,
      Float64Array.from({ length: size }, (_, row) => half[row * size + column]),
    );
    for (let row = 0; row < size; row++) covariance[row * size + column] = whole[row];
  }
  return {
    parameters: applyFactor(priors, fitted.parameters),
    covariance,
    sumOfSquares: fitted.sumOfSquares,
  };
}
