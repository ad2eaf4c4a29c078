import type { BatchSimulator, Pipeline, QuantityValues } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import {
  needsUncertainties,
  type RunScalars,
  reduceSimulated,
  simulateGroup,
  valuesOfGroup,
} from './outputs.ts';

/** Base values and the effects that are on. */
export interface SimulationPoint {
  readonly base: Float64Array;
  readonly subset: number;
}

/**
 * Simulates and reduces one run a group at many points; the same as `simulateGroups` at each, within the tolerance of
 * the evolution, but many runs at a time where a batch simulator is there.
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
  const values: QuantityValues[] = points.flatMap(({ base, subset }) =>
    groups.map((group) => valuesOfGroup(pipeline, base, group, subset)),
  );
  const options = { findsUncertainties: needsUncertainties(pipeline.lab) };
  const gathering = createGathering(groups.length, visit);
  const runAt = (index: number): RunGroup => groups[index % groups.length];
  if (batch === null) {
    for (const [index, at] of values.entries()) {
      if (signal?.aborted === true) return;
      gathering(simulateGroup(pipeline, runAt(index), index % groups.length, at));
    }
    return;
  }
  batch.simulate(
    values,
    (index, readings) => {
      const group = index % groups.length;
      const at = values[index];
      gathering(
        readings === null
          ? simulateGroup(pipeline, runAt(index), group, at)
          : reduceSimulated(pipeline, readings, at, runAt(index), group, options),
      );
    },
    signal,
  );
}

/** Collects the runs of a point and hands them over when the last group's is there. */
function createGathering(
  groups: number,
  visit: (index: number, outcome: Outcome<readonly RunScalars[]>) => void,
): (run: Outcome<RunScalars>) => void {
  let point = 0;
  let runs: RunScalars[] = [];
  let problems: readonly Problem[] = [];
  let seen = 0;
  return (run) => {
    if (run.ok) runs.push(run.value);
    else if (problems.length === 0) problems = run.problems;
    seen += 1;
    if (seen < groups) return;
    visit(point, problems.length > 0 ? fail(...problems) : succeed(runs));
    point += 1;
    runs = [];
    problems = [];
    seen = 0;
  };
}
