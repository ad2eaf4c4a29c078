import type { Evaluate } from './objective.ts';

/** ∛ of the rounding of a double: where the errors of truncation and of rounding balance in a central difference. */
const STEP = 6e-6;

/**
 * Makes a model without derivatives fit for fitNonlinear: central differences, one-sided where the other side
 * leaves the model's domain.
 *
 * @param valuesOf fills in n values for k parameters
 * @param scales   typical size of each parameter, k values > 0: its standard uncertainty where one is known.
 * The step is `relativeStep` of it, or of the parameter where that is larger.
 * @param relativeStep 6e-6 suits values good to rounding; for values good to ε take about ∛ε
 * Costs 2k evaluations a Jacobian. Source: Gill, Murray, Wright, Practical Optimization, 1981, section 8.6
 */
export function differenceDerivatives(
  valuesOf: (parameters: Float64Array, values: Float64Array) => void,
  scales: ArrayLike<number>,
  relativeStep = STEP,
): Evaluate {
  return (parameters, values, jacobian) => {
    valuesOf(parameters, values);
    if (!jacobian) return;
    const point = parameters.slice();
    const below = new Float64Array(values.length);
    jacobian.forEach((above, j) => {
      const size = relativeStep * Math.max(scales[j], Math.abs(parameters[j]));
      point[j] = parameters[j] + size;
      const up = point[j] - parameters[j];
      valuesOf(point, above);
      point[j] = parameters[j] - size;
      const down = parameters[j] - point[j];
      valuesOf(point, below);
      point[j] = parameters[j];
      const upGood = above.every(Number.isFinite);
      const downGood = below.every(Number.isFinite);
      for (let i = 0; i < values.length; i += 1) {
        const high = upGood ? above[i] : values[i];
        const low = downGood ? below[i] : values[i];
        above[i] = (high - low) / ((upGood ? up : 0) + (downGood ? down : 0));
      }
    });
  };
}
