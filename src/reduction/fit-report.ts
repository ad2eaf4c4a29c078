import type { Problem } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';

/** One axis of a fit, as it is drawn. */
export interface FitAxis {
  /** As the lab file has it: 'v^2'. */
  readonly text: string;
  readonly dimension: Dimension;
  /** n readings, SI. */
  readonly values: Float64Array;
  /** Standard uncertainty, one a reading; null where none is stated. */
  readonly u: Float64Array | null;
}

/** A fit with all that a reader needs to judge it. */
export interface FitReport {
  /** In words: 'line of v² against x²'. */
  readonly words: string;
  readonly step: string;
  readonly runName: string;
  readonly x: FitAxis;
  readonly y: FitAxis;
  /** Value of the fit at each reading. */
  readonly fitted: Float64Array;
  /** y − fitted. */
  readonly residuals: Float64Array;
  readonly parameters: readonly {
    /** The scalar that it became, or what it is: 'intercept'. */
    readonly name: string;
    readonly value: number;
    readonly standardUncertainty: number;
    readonly dimension: Dimension;
  }[];
  /** k×k, row-major, in the order of the parameters. */
  readonly covariance: Float64Array;
  readonly degreesOfFreedom: number;
  /** Null where no uncertainty is stated. */
  readonly reducedChiSquare: number | null;
  readonly uncertaintyFrom: 'scatter' | 'stated';
  /** How the uncertainties were found, in sentences. */
  readonly statement: string;
  readonly notes: readonly Problem[];
}
