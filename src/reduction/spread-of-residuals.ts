import type { ErrorShape } from './error-shape.ts';
import { dot } from './orthonormal-design.ts';

/** What is to be expected of residuals: of readings with a covariance, less some directions. */
export interface ResidualSpread {
  /** Variance of each. */
  readonly variances: Float64Array;
  /** Their sum: the expected sum of squares. */
  readonly expected: number;
  /** Effective degrees of freedom of the sum of squares. */
  readonly degreesOfFreedom: number;
}

/**
 * Variances of (1 − B·Bᵀ)·S·e, for readings' errors e of covariance V.
 *
 * @param shape V
 * @param scale the diagonal of S, n values
 * @param basis B: orthonormal directions that the residuals have nothing of
 * Effective degrees of freedom: F. E. Satterthwaite, Biometrics Bull. 2 (1946) 110, doi:10.2307/3002019
 */
export function spreadOfResiduals(
  shape: ErrorShape,
  scale: Float64Array,
  basis: readonly Float64Array[],
): ResidualSpread {
  const n = shape.rows;
  const products = basis.map((direction) => multiplyScaled(shape, scale, direction));
  const variances = shape.variances();
  for (let i = 0; i < n; i++) variances[i] *= scale[i] ** 2;
  let squares = shape.sumOfSquares(scale);
  basis.forEach((direction, a) => {
    squares -= 2 * dot(products[a], products[a]);
    basis.forEach((other) => {
      const entry = dot(other, products[a]);
      squares += entry * entry;
      for (let i = 0; i < n; i++) variances[i] += direction[i] * entry * other[i];
    });
    for (let i = 0; i < n; i++) variances[i] -= 2 * direction[i] * products[a][i];
  });
  let expected = 0;
  for (const variance of variances) expected += variance;
  return { variances, expected, degreesOfFreedom: expected ** 2 / squares };
}

/** S·V·S·direction. */
function multiplyScaled(shape: ErrorShape, scale: Float64Array, direction: Float64Array): Float64Array {
  const scaled = direction.map((each, i) => each * scale[i]);
  const product = shape.multiply(scaled, shape.gather(scaled));
  for (let i = 0; i < product.length; i++) product[i] *= scale[i];
  return product;
}
