import { type BatchSimulator, createBatchSimulator, type Lab, type Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import type { Output, RunGroup, RunScalars, RunVariation, SimulateRuns } from '../run/index.ts';
import {
  allEffects,
  gatherOutputs,
  settingsOff,
  settleVariation,
  simulateMany,
  valuesOfGroup,
} from '../run/index.ts';
import type { EffectModel } from './effect-model.ts';

/** The lab's pipeline as numbers for the ledger, and the first problem it met. */
export interface LabEffectModel extends EffectModel {
  /** The base quantities that are uncertain: input i of the model is base quantity `uncertain[i]`. */
  readonly uncertain: readonly number[];
  /** Base values for given inputs. */
  baseAt(inputs: Float64Array): Float64Array;
  readonly firstProblem: () => Problem | null;
  /** How runs differ, as settled for these groups. */
  readonly variation: RunVariation;
  /** The runs themselves, before anything is gathered from them. */
  readonly simulateRuns: SimulateRuns;
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
  const note = ([found]: readonly Problem[], subset: number): false => {
    if (found !== undefined) firstProblem ??= sayWithout(found, lab, subset);
    return false;
  };
  const weights = (group: number) => Math.max(groups[group]?.trials.length ?? 0, 1);
  const keep = (
    runs: Outcome<readonly RunScalars[]>,
    at: Float64Array,
    subset: number,
    values: Float64Array,
  ): boolean => {
    if (!runs.ok) return note(runs.problems, subset);
    const gathered = gatherOutputs(pipeline, groups, outputs, runs.value, at, subset, weights, values);
    if (!gathered.ok) return note(gathered.problems, subset);
    return values.every(Number.isFinite);
  };
  const batch = batchOf(pipeline, groups[0]);
  const variation = settleVariation(pipeline, groups);
  return {
    effects: lab.effects.length,
    outputs: outputs.length,
    nominal: Float64Array.from(estimates, (estimate) => estimate.value),
    uncertainties: Float64Array.from(estimates, (estimate) => estimate.standardUncertainty),
    uncertain,
    baseAt,
    firstProblem: () => firstProblem,
    variation,
    simulateRuns: (points, visit) => simulateMany(pipeline, batch, groups, points, visit),
    isInert: (subset, input) =>
      !lab.influential.has(uncertain[input] ?? -1) || (inert[subset]?.has(input) ?? false),
    predict(points, values, sound, signal) {
      const at = points.map(({ subset, inputs }) => ({
        subset,
        base: Float64Array.from(baseAt(inputs)),
        variation,
      }));
      const width = outputs.length;
      simulateMany(
        pipeline,
        batch,
        groups,
        at,
        (index, runs) => {
          const { base: own, subset } = at[index];
          sound[index] = keep(runs, own, subset, values.subarray(index * width, (index + 1) * width)) ? 1 : 0;
        },
        signal,
      );
    },
  };
}

/** A subset of the effects is a setting that the author never wrote down: the problem says which are off. */
function sayWithout(found: Problem, lab: Lab, subset: number): Problem {
  const off = lab.effects.filter((_, index) => (subset & (1 << index)) === 0).map(({ name }) => `"${name}"`);
  if (off.length === 0) return found;
  return { ...found, message: `${found.message} This is without ${off.join(' and ')}.` };
}

/** The batch simulator of the lab; the usual run tells how many readings to make room for. */
function batchOf(pipeline: Pipeline, group: RunGroup | undefined): BatchSimulator | null {
  if (group === undefined) return null;
  const usual = pipeline.simulate(valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(pipeline.lab)));
  return usual.ok ? createBatchSimulator(pipeline.lab, usual.value.readings) : null;
}
