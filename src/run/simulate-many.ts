import type { Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { averageRuns, type RunScalars, simulateGroup, valuesOfGroup, valuesOfNodes } from './outputs.ts';
import type { RunVariation } from './run-variation.ts';

/** Base values and the effects that are on. */
export interface SimulationPoint {
  readonly base: Float64Array;
  readonly subset: number;
  /** Examples of single runs that are averaged over. */
  readonly variation: RunVariation;
}

/**
 * Simulates and reduces what runs give on average, a group at a time, at a few points: `simulateGroups` at each.
 *
 * @param visit receives what each point gave, in order
 */
export function simulateMany(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  points: readonly SimulationPoint[],
  visit: (index: number, outcome: Outcome<readonly RunScalars[]>) => void,
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
  const gathering = createGathering(visit);
  for (const job of jobs) {
    gathering(job, simulateGroup(pipeline, job.group, job.index, job.values, job.reduceWith));
  }
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
