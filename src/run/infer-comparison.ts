import type { BaseQuantity, Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { intoDirections, type Scatter } from './infer-scatter.ts';
import { allEffects, type RunScalars, reduceGroups, simulateGroups } from './outputs.ts';
import { alikeRuns } from './run-variation.ts';
import { settleVariation } from './settle-variation.ts';

/** Means of the runs, the model's prediction, and their difference: groups × scalars. */
export interface Comparison {
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
  readonly difference: Float64Array;
}

/** What a fit is made to: the runs, the numbers of each, and how these scatter. */
export interface FittedRuns {
  readonly groups: readonly RunGroup[];
  readonly using: readonly string[];
  readonly scatter: Scatter;
}

/** What is believed before the trials: uncertain quantities, and the values of all others. */
export interface Belief {
  readonly parameters: readonly BaseQuantity[];
  /** Of all base quantities where no parameter deviates, SI. */
  readonly nominal: Float64Array;
}

/**
 * Compares with the parameters so many standard uncertainties from their values.
 *
 * @param runs `alike` leaves out how runs differ from one another: quicker, and near enough for a first look
 */
export type Compare = (deviations: Float64Array, runs?: 'averaged' | 'alike') => Outcome<Comparison>;

/** Compares with the quantities at value + u·deviation; the reduction of the trials follows the quantities too. */
export function createComparison(
  pipeline: Pipeline,
  { groups, using }: FittedRuns,
  { parameters, nominal }: Belief,
): Compare {
  const averaged = settleVariation(pipeline, groups);
  const alike = alikeRuns(pipeline.lab);
  return (deviations, runs = 'averaged') => {
    const variation = runs === 'alike' ? alike : averaged;
    const base = Float64Array.from(nominal);
    parameters.forEach(({ index, estimate }, at) => {
      base[index] = estimate.value + deviations[at] * estimate.standardUncertainty;
    });
    const simulated = simulateGroups(pipeline, groups, base, allEffects(pipeline.lab), variation);
    if (!simulated.ok) return simulated;
    const reduced = reduceGroups(pipeline, groups, base, false);
    if (!reduced.ok) return reduced;
    const measured = meansOf(reduced.value, groups.length, using);
    const predicted = meansOf(simulated.value, groups.length, using);
    return succeed({
      measured,
      predicted,
      difference: predicted.map((value, index) => value - measured[index]),
    });
  };
}

function meansOf(runs: readonly RunScalars[], groups: number, using: readonly string[]): Float64Array {
  const means = new Float64Array(groups * using.length);
  for (let group = 0; group < groups; group++) {
    const own = runs.filter((run) => run.group === group);
    for (const [index, name] of using.entries()) {
      means[group * using.length + index] =
        own.reduce((sum, run) => sum + (run.scalars.get(name)?.value ?? Number.NaN), 0) / own.length;
    }
  }
  return means;
}

/** Turns differences of group means into independent numbers of variance 1, `variances` being those of a run. */
export function createWhitening(
  groups: readonly RunGroup[],
  scatter: Scatter,
  variances: Float64Array = scatter.variances,
) {
  return (difference: Float64Array): Float64Array =>
    intoDirections(scatter, groups, difference).map(
      (value, index) => value / Math.sqrt(variances[index % variances.length]),
    );
}
