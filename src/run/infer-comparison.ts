import type { BaseQuantity, Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { applyFactor } from './infer-priors.ts';
import { allEffects, type RunScalars, reduceGroups, simulateGroups } from './outputs.ts';

/** Means of the runs, the model's prediction, and their difference: groups × scalars. */
export interface Comparison {
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
  readonly difference: Float64Array;
}

/** Compares with the quantities at value + u·(L·ξ); the reduction of the trials follows the quantities too. */
export function createComparison(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  using: readonly string[],
  parameters: readonly BaseQuantity[],
  priors: Float64Array,
) {
  return (xi: Float64Array): Outcome<Comparison> => {
    const base = Float64Array.from(pipeline.nominal);
    const deviations = applyFactor(priors, xi);
    parameters.forEach(({ index, estimate }, at) => {
      base[index] = estimate.value + deviations[at] * estimate.standardUncertainty;
    });
    const simulated = simulateGroups(pipeline, groups, base, allEffects(pipeline.lab));
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

/** Turns differences of group means into independent numbers of variance 1: L⁻¹·difference·√n, L Lᵀ the covariance. */
export function createWhitening(groups: readonly RunGroup[], k: number, factor: Float64Array) {
  return (difference: Float64Array): Float64Array => {
    const white = new Float64Array(difference.length);
    for (const [group, { trials }] of groups.entries()) {
      for (let i = 0; i < k; i++) {
        let rest = difference[group * k + i] * Math.sqrt(trials.length);
        for (let j = 0; j < i; j++) rest -= factor[i * k + j] * white[group * k + j];
        white[group * k + i] = rest / factor[i * k + i];
      }
    }
    return white;
  };
}
