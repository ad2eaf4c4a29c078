import { column } from './column.ts';
import { keep } from './keep.ts';
import { line } from './line.ts';
import { mean } from './mean.ts';
import { motionFromEdges } from './motion-from-edges.ts';
import { readings } from './readings.ts';
import type { ReductionStep } from './step.ts';
import { value } from './value.ts';

/** Steps that work on readings and on tables alike. */
const stepsOnColumns: readonly ReductionStep[] = [column, value, keep, mean, line];

/** Steps from one run's readings to its results, by their name in the lab file. */
export const eachRunSteps: ReadonlyMap<string, ReductionStep> = byName([
  motionFromEdges,
  readings,
  ...stepsOnColumns,
]);

/** Steps on the table of the runs' results, which has a row for each run. */
export const acrossRunsSteps: ReadonlyMap<string, ReductionStep> = byName(stepsOnColumns);

function byName(steps: readonly ReductionStep[]): ReadonlyMap<string, ReductionStep> {
  return new Map(steps.map((step) => [step.name, step]));
}
