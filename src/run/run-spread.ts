import type { Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { gatherOutputs, type Output, type RunScalars } from './outputs.ts';
import { quantitiesOfRuns, type RunVariation } from './run-variation.ts';
import type { SimulationPoint } from './simulate-many.ts';

/** Simulates runs of all groups at many points and hands over what each gave, in order. */
export type SimulateRuns = (
  points: readonly SimulationPoint[],
  visit: (index: number, outcome: Outcome<readonly RunScalars[]>) => void,
) => void;

/**
 * How far chance moves outputs because each run has its own value of what differs from run to run.
 *
 * One run of a group after another is given an example of the variation, all other runs staying as they are; the more
 * runs a group has, the less a single one moves its outputs. Where the mean is that of the run as given, results
 * answer in step, and one standard deviation of each quantity up and down says as much as all examples.
 *
 * @param variation as settled for these groups
 * @param runsOf    how many runs a group has
 * @returns a list a subset: rows of changes of the outputs, scaled so that their covariance is the sum of row·rowᵀ;
 *   rows come in the same order for every subset, so that differences between subsets have rows too. Empty where all
 *   runs are alike.
 */
export function spreadByRuns(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  subsets: readonly number[],
  variation: RunVariation,
  runsOf: (group: number) => number,
  simulate: SimulateRuns,
): Outcome<readonly (readonly Float64Array[])[]> {
  const { nominal } = pipeline;
  const examples = examplesOf(pipeline, variation);
  if (examples.deviations.length === 0) return succeed(subsets.map(() => []));
  const points = subsets.flatMap((subset) =>
    examples.deviations.map((deviation) => ({ base: nominal, subset, variation: { nodes: [deviation] } })),
  );
  const runs: (readonly RunScalars[])[] = [];
  const problems: Problem[] = [];
  simulate(points, (index, outcome) => {
    if (outcome.ok) runs[index] = outcome.value;
    else if (problems.length === 0) problems.push(...outcome.problems);
  });
  if (problems.length > 0) return fail(...problems);
  const all: (readonly Float64Array[])[] = [];
  const count = examples.deviations.length;
  for (const [at, subset] of subsets.entries()) {
    const own = runs.slice(at * count, (at + 1) * count);
    const rows: Float64Array[] = [];
    for (const [group] of groups.entries()) {
      const others = groups.flatMap((_, other) =>
        Array.from({ length: runsOf(other) - (other === group ? 1 : 0) }, () => own[0][other]),
      );
      const values = own.map(() => new Float64Array(outputs.length));
      for (const [example, run] of own.entries()) {
        const gathered = gatherOutputs(
          pipeline,
          groups,
          outputs,
          [...others, run[group]],
          nominal,
          subset,
          () => 1,
          values[example],
        );
        if (!gathered.ok) return gathered;
      }
      rows.push(...examples.rowsOf(values, runsOf(group)));
    }
    all.push(rows);
  }
  return succeed(all);
}

interface Examples {
  readonly deviations: readonly Float64Array[];
  /** From the outputs at each example to the rows of one group with n runs. */
  readonly rowsOf: (values: readonly Float64Array[], n: number) => readonly Float64Array[];
}

function examplesOf({ lab }: Pipeline, { nodes }: RunVariation): Examples {
  if (nodes.length > 1) return { deviations: nodes, rowsOf: rowsAroundMean };
  const deviations = quantitiesOfRuns(lab).flatMap(({ index, eachRun }) =>
    [1, -1].map((sign) => {
      const deviation = new Float64Array(lab.quantities.base.length);
      deviation[index] = sign * (eachRun?.standardUncertainty ?? 0);
      return deviation;
    }),
  );
  return { deviations, rowsOf: rowsOfPairs };
}

/** Examples that are equally likely: their deviations from the mean. */
function rowsAroundMean(values: readonly Float64Array[], n: number): readonly Float64Array[] {
  const count = values.length;
  const mean = new Float64Array(values[0].length);
  for (const row of values) for (let at = 0; at < mean.length; at++) mean[at] += row[at] / count;
  return values.map((row) => row.map((value, at) => (value - mean[at]) * Math.sqrt(n / count)));
}

/** Pairs of one standard deviation up and down, a pair a quantity. */
function rowsOfPairs(values: readonly Float64Array[], n: number): readonly Float64Array[] {
  return Array.from({ length: values.length / 2 }, (_, pair) => {
    const above = values[2 * pair];
    const below = values[2 * pair + 1];
    return above.map((value, at) => ((value - below[at]) / 2) * Math.sqrt(n));
  });
}
