export {
  chiSquareProbability,
  chiSquareQuantile,
  chiSquareTail,
  chiSquareUpperQuantile,
} from './chi-square-distribution.ts';
export { type Correlation, choleskyFactor, correlationMatrix, covarianceMatrix } from './correlations.ts';
export { type CoverageInterval, shortestInterval, symmetricInterval } from './coverage-interval.ts';
export { differenceDerivatives } from './difference-derivatives.ts';
export { drawEstimates, type EstimateDraw, prepareDraws } from './draw-estimates.ts';
export { type ExtendedColumn, extendDecimals } from './extended-column.ts';
export { evaluateExtended, prepareResiduals } from './extended-evaluation.ts';
export { fProbability, fQuantile, fTail, fUpperQuantile } from './f-distribution.ts';
export type { Fit, FitOptions, LineOptions } from './fit.ts';
export { type DifferenceProblem, fitByDifferences } from './fit-by-differences.ts';
export { fitLine } from './fit-line.ts';
export { fitLineInto, LINE } from './fit-line-into.ts';
export { fitLinear } from './fit-linear.ts';
export { fitNonlinear, type NonlinearProblem } from './fit-nonlinear.ts';
export {
  type CurveInBothFit,
  type CurveInBothProblem,
  type EvaluateCurve,
  fitNonlinearInBoth,
} from './fit-nonlinear-in-both.ts';
export { fitPolynomial } from './fit-polynomial.ts';
export {
  type JointMeans,
  type Mean,
  meanOf,
  meansTogether,
  type WeightedMean,
  weightedMeanOf,
} from './means.ts';
export { normalDensity, normalProbability, normalTail } from './normal-distribution.ts';
export { normalQuantile } from './normal-quantile.ts';
export { numericalTolerance } from './numerical-tolerance.ts';
export type { Evaluate } from './objective.ts';
export {
  type Contribution,
  coverageFactor,
  type LinearPropagation,
  propagateCovariance,
  propagateLinear,
  welchSatterthwaite,
} from './propagate-linear.ts';
export {
  type MonteCarlo,
  type MonteCarloInput,
  type MonteCarloOutput,
  propagateMonteCarlo,
} from './propagate-monte-carlo.ts';
export { type QuasiRandomPoints, quasiRandomPoints } from './quasi-random.ts';
export { type RandomSource, randomSource } from './random-source.ts';
export type { LossName } from './robust-loss.ts';
export { studentDensity, studentProbability, studentQuantile, studentTail } from './student-distribution.ts';
export { type SymmetricEigenvectors, symmetricEigenvectors } from './symmetric-eigenvectors.ts';
export { type LinearValidation, validateLinear } from './validate-linear.ts';
