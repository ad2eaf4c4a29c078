import type { Column, Readings } from '../instrument/index.ts';
import type { Problem } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type { FitReport } from './fit-report.ts';

/** A number that a step gave, in SI. */
export interface Scalar {
  readonly value: number;
  /** NaN where the run does not find uncertainties. */
  readonly standardUncertainty: number;
  /** Infinity where the uncertainty is stated, not found from scatter. */
  readonly degreesOfFreedom: number;
  readonly dimension: Dimension;
  /** How the error is made up, so that scalars of one fit are combined with their covariance. */
  readonly errors: readonly ErrorPart[];
}

/** Part of a scalar's error: Σ coefficientⱼ·eⱼ, with independent eⱼ of variance 1 that others may share. */
export interface ErrorPart {
  readonly source: ErrorSource;
  readonly coefficients: Float64Array;
}

/** Where a part of an error is from; the same object means the same eⱼ. */
export interface ErrorSource {
  readonly degreesOfFreedom: number;
}

/** One run on its way through the steps; steps add to it, and `keep` takes rows away. */
export interface RunState {
  /** In words for messages: 'run 4', 'trial a1', 'across runs'. */
  readonly runName: string;
  /** Raw readings by the name of the instrument, real or simulated. */
  readonly readings: ReadonlyMap<string, Readings>;
  readonly columns: Map<string, Column>;
  readonly scalars: Map<string, Scalar>;
  readonly fits: FitReport[];
  readonly notes: Problem[];
  /** Whether fits are kept with their data for plots; many simulated runs need none. */
  readonly keepsReports: boolean;
  /** Whether uncertainties of scalars are found; true wherever reports are kept. */
  readonly findsUncertainties: boolean;
}

/**
 * A run before its first step.
 *
 * @param options.keepsReports whether fits are kept with their data (and uncertainties found); default false
 * @param options.findsUncertainties needed without reports where a step across runs weights by them
 */
export function beginRun(
  runName: string,
  readings: ReadonlyMap<string, Readings>,
  options: {
    readonly keepsReports?: boolean;
    readonly findsUncertainties?: boolean;
    readonly columns?: Iterable<Column>;
  } = {},
): RunState {
  const keepsReports = options.keepsReports ?? false;
  return {
    runName,
    readings,
    columns: new Map(Array.from(options.columns ?? [], (column) => [column.name, column])),
    scalars: new Map(),
    fits: [],
    notes: [],
    keepsReports,
    findsUncertainties: keepsReports || (options.findsUncertainties ?? false),
  };
}
