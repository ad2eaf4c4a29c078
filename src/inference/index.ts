export type { Fit, FitOptions } from './fit.ts';
export { fitLine, type LineOptions } from './fit-line.ts';
export { fitLineInto, LINE } from './fit-line-into.ts';
export { fitLinear } from './fit-linear.ts';
export { fitPolynomial } from './fit-polynomial.ts';
export { type Mean, meanOf, type WeightedMean, weightedMeanOf } from './means.ts';
export { normalQuantile } from './normal-quantile.ts';
export { type RandomSource, randomSource } from './random-source.ts';
