import type { BatchSimulator, Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import {
  averageRuns,
  needsUncertainties,
  type RunScalars,
  reduceSimulated,
  simulateGroup,
  valuesOfGroup,
  valuesOfNodes,
} from './outputs.ts';
import type { RunVariation } from './run-variation.ts';

/** Base values and the effects that are on. */
export interface SimulationPoint {
  readonly base: Float64Array;
  readonly subset: number;
  /** Examples of single runs that are averaged over. */
  readonly variation: RunVariation;
}

/**
 * Simulates and reduces what runs give on average, a group at a time, at many points; the same as `simulateGroups` at
 * each, within the tolerance of the evolution, but many runs at a time where a batch simulator is there.
 *
 * @param visit receives what each point gave, in order
 * @param signal where it asks to stop, the points not done are not visited
 */
export function simulateMany(
  pipeline: Pipeline,
  batch: BatchSimulator | null,
  groups: readonly RunGroup[],
  points: readonly SimulationPoint[],
  visit: (index: number, outcome: Outcome<readonly RunScalars[]>) => void,
  signal?: { readonly aborted: boolean },
): void {
  const jobs = points.flatMap(({ base, subset, variation }, point) =>
    groups.flatMap((group, index) => {
      const reduceWith = valuesOfGroup(pipeline, base, group, subset);
      const nodes = valuesOfNodes(pipeline, base, group, subset, variation);
      return nodes.map((values, node) => ({
        group,
        index,
        values,
        reduceWith,
        isLast: node === nodes.length - 1,
        endsPoint: node === nodes.length - 1 && index === groups.length - 1 ? point : null,
      }));
    }),
  );
  const options = { findsUncertainties: needsUncertainties(pipeline.lab) };
  const gathering = createGathering(visit);
  if (batch === null) {
    for (const job of jobs) {
      if (signal?.aborted === true) return;
      gathering(job, simulateGroup(pipeline, job.group, job.index, job.values, job.reduceWith));
    }
    return;
  }
  batch.simulate(
    jobs.map(({ values }) => values),
    (at, readings) => {
      const job = jobs[at];
      const { group, index, values, reduceWith } = job;
      gathering(
        job,
        readings === null
          ? simulateGroup(pipeline, group, index, values, reduceWith)
          : reduceSimulated(pipeline, readings, reduceWith, group, index, options),
      );
    },
    signal,
  );
}

/** Where a run stands among those of its group and its point. */
interface RunPlace {
  readonly isLast: boolean;
  /** The point that is complete with this run, else null. */
  readonly endsPoint: number | null;
}

/** Collects the runs of a point, a mean a group, and hands them over when the last one is there. */
function createGathering(
  visit: (index: number, outcome: Outcome<readonly RunScalars[]>) => void,
): (place: RunPlace, run: Outcome<RunScalars>) => void {
  let means: RunScalars[] = [];
  let runs: RunScalars[] = [];
  let problems: readonly Problem[] = [];
  return ({ isLast, endsPoint }, run) => {
    if (run.ok) runs.push(run.value);
    else if (problems.length === 0) problems = run.problems;
    if (!isLast) return;
    if (runs.length > 0) means.push(averageRuns(runs));
    runs = [];
    if (endsPoint === null) return;
    visit(endsPoint, problems.length > 0 ? fail(...problems) : succeed(means));
    means = [];
    problems = [];
  };
}
