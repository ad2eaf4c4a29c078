import type { Pipeline } from '../lab/index.ts';
import type { Problem } from '../problem/index.ts';
import type { Output, RunGroup, RunScalars } from '../run/index.ts';
import { gatherOutputs } from '../run/index.ts';

/**
 * Gathers the outputs of one point from the numbers of its runs: the mean over a group's runs, or the steps across
 * all runs.
 *
 * @param scalars runs × width, as `ManyRuns` writes them
 * @param groupOf the group of each run
 * @param weights how many real runs each group's entry stands for
 * @param values  receives one number an output, SI
 * @returns problems of the steps across runs, or null
 */
export type GatherPoint = (
  scalars: Float64Array,
  groupOf: readonly number[],
  weights: readonly number[],
  base: Float64Array,
  subset: number,
  values: Float64Array,
) => readonly Problem[] | null;

/** The scalars of `each run` that the outputs rest on. */
export function scalarsBehind(pipeline: Pipeline, outputs: readonly Output[]): readonly string[] {
  const names = [...pipeline.lab.eachRun.scalars.keys()];
  // Steps across runs may read any of them.
  if (outputs.some(({ group }) => group === null)) return names;
  const results = new Set(outputs.map(({ result }) => result.name));
  return names.filter((name) => results.has(name));
}

/**
 * Makes the function that gathers the outputs of a point.
 *
 * @param names scalars in the order in which a run has them
 * @param width numbers of a run: uncertainties follow the values where it is twice the names
 */
export function createGathering(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  names: readonly string[],
  width: number,
): GatherPoint {
  if (outputs.some(({ group }) => group === null))
    return gatherAcross(pipeline, groups, outputs, names, width);
  const places = outputs.map(({ result }) => names.indexOf(result.name));
  const wanted = outputs.map(({ group }) => group);
  return (scalars, groupOf, _weights, _base, _subset, values) => {
    for (let output = 0; output < places.length; output++) {
      let sum = 0;
      let count = 0;
      for (let run = 0; run < groupOf.length; run++) {
        if (groupOf[run] !== wanted[output]) continue;
        sum += scalars[run * width + places[output]];
        count += 1;
      }
      values[output] = sum / count;
    }
    return null;
  };
}

/** Makes the function that reads a run's numbers, as `ManyRuns` writes them, as scalars with names. */
export function createScalarsReader(
  pipeline: Pipeline,
  names: readonly string[],
  width: number,
): (scalars: Float64Array, from: number, group: number) => RunScalars {
  const dimensions = names.map((name) => pipeline.lab.eachRun.scalars.get(name) ?? []);
  const hasUncertainties = width > names.length;
  return (scalars, from, group) => {
    const entries = names.map((name, i) => {
      const scalar = {
        value: scalars[from + i],
        standardUncertainty: hasUncertainties ? scalars[from + i + names.length] : Number.NaN,
        degreesOfFreedom: Number.NaN,
        dimension: dimensions[i],
        errors: [],
      };
      return [name, scalar] as const;
    });
    return { group, scalars: new Map(entries) };
  };
}

function gatherAcross(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  names: readonly string[],
  width: number,
): GatherPoint {
  const scalarsOf = createScalarsReader(pipeline, names, width);
  return (scalars, groupOf, weights, base, subset, values) => {
    const runs = groupOf.map((group, run) => scalarsOf(scalars, run * width, group));
    const weightOf = (group: number): number => weights[group] ?? 1;
    const gathered = gatherOutputs(pipeline, groups, outputs, runs, base, subset, weightOf, values);
    return gathered.ok ? null : gathered.problems;
  };
}
