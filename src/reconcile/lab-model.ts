import type { Pipeline } from '../lab/index.ts';
import type { Problem } from '../problem/index.ts';
import type { Output, RunGroup } from '../run/index.ts';
import { gatherOutputs, settingsOff, simulateGroups } from '../run/index.ts';
import type { EffectModel } from './shares.ts';

/** The lab's pipeline as numbers for the ledger, and the first problem it met. */
export interface LabEffectModel extends EffectModel {
  /** The base quantities that are uncertain: input i of the model is base quantity `uncertain[i]`. */
  readonly uncertain: readonly number[];
  /** Base values for given inputs. */
  baseAt(inputs: Float64Array): Float64Array;
  readonly firstProblem: () => Problem | null;
}

/** Sees the simulated runs of all groups, and the outputs gathered from them, as an effect model. */
export function createLabModel(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
): LabEffectModel {
  const { lab } = pipeline;
  const uncertain = lab.quantities.base
    .filter(({ estimate }) => estimate.standardUncertainty > 0)
    .map(({ index }) => index);
  const estimates = uncertain.flatMap((index) => lab.quantities.base[index]?.estimate ?? []);
  const inputOf = new Map(uncertain.map((index, input) => [index, input]));
  const inert = Array.from({ length: 2 ** lab.effects.length }, (_, subset) => {
    const off = settingsOff(lab, subset).map((setting) => inputOf.get(setting.quantity.index));
    return new Set(off);
  });
  const base = Float64Array.from(pipeline.nominal);
  const baseAt = (inputs: Float64Array): Float64Array => {
    uncertain.forEach((index, input) => {
      base[index] = inputs[input];
    });
    return base;
  };
  let firstProblem: Problem | null = null;
  const note = (problems: readonly Problem[]): false => {
    firstProblem ??= problems[0] ?? null;
    return false;
  };
  return {
    effects: lab.effects.length,
    outputs: outputs.length,
    nominal: Float64Array.from(estimates, (estimate) => estimate.value),
    uncertainties: Float64Array.from(estimates, (estimate) => estimate.standardUncertainty),
    uncertain,
    baseAt,
    firstProblem: () => firstProblem,
    isInert: (subset, input) => inert[subset]?.has(input) ?? false,
    predict(subset, inputs, values) {
      const at = baseAt(inputs);
      const runs = simulateGroups(pipeline, groups, at, subset);
      if (!runs.ok) return note(runs.problems);
      const weights = (group: number) => Math.max(groups[group]?.trials.length ?? 0, 1);
      const gathered = gatherOutputs(pipeline, groups, outputs, runs.value, at, subset, weights, values);
      if (!gathered.ok) return note(gathered.problems);
      return values.every(Number.isFinite);
    },
  };
}
