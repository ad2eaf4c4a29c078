import { column } from './column.ts';
import { fit } from './fit.ts';
import { keep } from './keep.ts';
import { line } from './line.ts';
import { mean } from './mean.ts';
import { motionFromEdges } from './motion-from-edges.ts';
import { motionFromGates } from './motion-from-gates.ts';
import { motionFromFrames, motionFromSamples } from './motion-from-samples.ts';
import { peak } from './peak.ts';
import { period } from './period.ts';
import { polynomial } from './polynomial.ts';
import { readings } from './readings.ts';
import { derivative, smooth } from './smooth.ts';
import type { ReductionStep } from './step.ts';
import { value } from './value.ts';
import { zero } from './zero.ts';

/** Steps that work on readings and on tables alike. */
const stepsOnColumns: readonly ReductionStep[] = [column, value, keep, mean, line, polynomial, fit, peak];

/** Steps from one run's readings to its results, by their name in the lab file. */
export const eachRunSteps: ReadonlyMap<string, ReductionStep> = byName([
  motionFromEdges,
  motionFromSamples,
  motionFromGates,
  motionFromFrames,
  readings,
  zero,
  smooth,
  derivative,
  period,
  ...stepsOnColumns,
]);

/** Steps on the table of the runs' results, which has a row for each run. */
export const acrossRunsSteps: ReadonlyMap<string, ReductionStep> = byName(stepsOnColumns);

function byName(steps: readonly ReductionStep[]): ReadonlyMap<string, ReductionStep> {
  return new Map(steps.map((step) => [step.name, step]));
}
