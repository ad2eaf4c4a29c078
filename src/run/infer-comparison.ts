import type { BaseQuantity, Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { intoDirections, type Scatter } from './infer-scatter.ts';
import { allEffects, type RunScalars, reduceGroups, simulateGroups } from './outputs.ts';
import { settleVariation } from './settle-variation.ts';

/** Means of the runs, the model's prediction, and their difference: groups × scalars. */
export interface Comparison {
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
  readonly difference: Float64Array;
}

/** Compares with the quantities at value + u·deviation; the reduction of the trials follows the quantities too. */
export function createComparison(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  using: readonly string[],
  parameters: readonly BaseQuantity[],
) {
  const variation = settleVariation(pipeline, groups);
  return (deviations: Float64Array): Outcome<Comparison> => {
    const base = Float64Array.from(pipeline.nominal);
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

/** Turns differences of group means into independent numbers of variance 1. */
export function createWhitening(groups: readonly RunGroup[], scatter: Scatter) {
  const { variances } = scatter;
  return (difference: Float64Array): Float64Array =>
    intoDirections(scatter, groups, difference).map(
      (value, index) => value / Math.sqrt(variances[index % variances.length]),
    );
}
