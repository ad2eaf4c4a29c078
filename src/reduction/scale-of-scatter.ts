import { fTail } from '../inference/index.ts';
import type { ErrorShape } from './error-shape.ts';
import { dot, orthonormalBasis, type TriangularDesign } from './orthonormal-design.ts';
import { type ResidualSpread, spreadOfResiduals } from './spread-of-residuals.ts';

/** The size of the errors of a fit whose V is known up to a factor. */
export interface ScaleOfScatter {
  /** The factor of V. */
  readonly factor: number;
  readonly degreesOfFreedom: number;
  /** Chance that residuals with this V are spread over large and small variances as unevenly as these. */
  readonly chance: number;
}

/**
 * The factor of V from the residuals of an unweighted fit, each compared with its own variance: a plain sum of
 * squares would rest on the few largest where variances differ widely.
 *
 * What a weighted fit would take up is left out of the residuals: there the unweighted fit runs past the best
 * known readings, and the factor would be large just where the parameters are far off.
 * The halves of the readings with the smaller and the larger variances each give the factor too; where the two
 * disagree, V has not the shape of the errors.
 */
export function scaleOfScatter(
  residuals: Float64Array,
  design: TriangularDesign,
  shape: ErrorShape,
): ScaleOfScatter {
  const n = residuals.length;
  const variances = shape.variances();
  const sorted = variances.toSorted();
  // A reading without errors tells nothing of their size.
  const scale = variances.map((variance) => (variance > 1e-12 * sorted[n - 1] ? 1 / Math.sqrt(variance) : 0));
  const basis = orthonormalBasis(design.q.map((direction) => direction.map((each, i) => each * scale[i])));
  const left = residuals.map((residual, i) => residual * scale[i]);
  for (const direction of basis) {
    const share = dot(direction, left);
    for (let i = 0; i < n; i++) left[i] -= share * direction[i];
  }
  const spread = spreadOfResiduals(shape, scale, basis);
  return {
    factor: dot(left, left) / spread.expected,
    degreesOfFreedom: spread.degreesOfFreedom,
    chance: chanceOfHalves(left, spread, variances, sorted[n >> 1]),
  };
}

/** Chance that the halves of small and large variance differ as they do; 1 where the variances are alike. */
function chanceOfHalves(
  residuals: Float64Array,
  spread: ResidualSpread,
  variances: Float64Array,
  median: number,
): number {
  const isLarge = (i: number): boolean => variances[i] > 1.001 * median;
  const large = ratioWhere(residuals, spread.variances, isLarge);
  const small = ratioWhere(residuals, spread.variances, (i) => !isLarge(i));
  if (!(large.expected > 0.1 * spread.expected && small.expected > 0.1 * spread.expected)) return 1;
  const perExpected = spread.degreesOfFreedom / spread.expected;
  const above = fTail(large.ratio / small.ratio, perExpected * large.expected, perExpected * small.expected);
  return 2 * Math.min(above, 1 - above);
}

/** Sum of squares of some residuals over what it is expected to be. */
function ratioWhere(
  residuals: Float64Array,
  variances: Float64Array,
  counts: (i: number) => boolean,
): { ratio: number; expected: number } {
  let squares = 0;
  let expected = 0;
  for (let i = 0; i < residuals.length; i++) {
    if (!counts(i)) continue;
    squares += residuals[i] ** 2;
    expected += variances[i];
  }
  return { ratio: squares / expected, expected };
}
