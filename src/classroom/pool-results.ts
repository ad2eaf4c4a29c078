import type { Pipeline, Pooling, Setting } from '../lab/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import { beginRun, type FitReport } from '../reduction/index.ts';

/** What one station found: each result of the lab with its standard uncertainty, SI. */
export interface StationResults {
  readonly set: readonly Setting[];
  /** One a result of the lab, in its order. */
  readonly values: Float64Array;
  /** Standard uncertainties; 0 where none is known. */
  readonly uncertainties: Float64Array;
}

/** A number that the stations found together, SI. */
export interface PooledValue {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
}

export interface Pooled {
  /** One a pooled result, in the lab's order. */
  readonly results: readonly PooledValue[];
  readonly fits: readonly FitReport[];
}

/**
 * Takes the table of stations through the pooled steps.
 *
 * @param keepsReports whether the fits are kept with their data, for a figure
 * @returns fails where a step does, as a line through too few stations
 */
export function poolResults(
  pipeline: Pipeline,
  pooling: Pooling,
  stations: readonly StationResults[],
  keepsReports = false,
): Outcome<Pooled> {
  const { lab, nominal } = pipeline;
  const state = beginRun('across stations', new Map(), { keepsReports, findsUncertainties: true });
  lab.results.forEach(({ name, unit }, index) => {
    state.columns.set(name, {
      name,
      dimension: unit.dimension,
      values: Float64Array.from(stations, ({ values }) => values[index]),
      u: Float64Array.from(stations, ({ uncertainties }) => uncertainties[index]),
    });
  });
  const ofStations = stations.map(({ set }) => pipeline.values(nominal, set));
  for (const { name, dimension, index } of pooling.varied) {
    const values = Float64Array.from(ofStations, (quantities) => quantities[index]);
    state.columns.set(name, { name, dimension, values, u: 0 });
  }
  const done = pooling.steps.run(state, pipeline.values(nominal));
  if (!done.ok) return done;
  const results = pooling.results.map(({ name }): PooledValue => {
    const scalar = state.scalars.get(name);
    return {
      value: scalar?.value ?? Number.NaN,
      standardUncertainty: scalar?.standardUncertainty ?? Number.NaN,
      degreesOfFreedom: scalar?.degreesOfFreedom ?? Number.NaN,
    };
  });
  return succeed({ results, fits: state.fits }, done.warnings);
}
