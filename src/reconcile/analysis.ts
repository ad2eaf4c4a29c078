import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import { measureStepShifts, type Output, type RunGroup, type StepShift } from '../run/index.ts';
import type { DrawMeasured } from './draw-measured.ts';
import type { Drawn } from './draw-model.ts';
import type { LabEffectModel } from './lab-model.ts';
import type { MeasuredOutput } from './measured.ts';
import type { RunChance } from './run-chance.ts';
import type { SubsetPlan } from './subset-plan.ts';

/** All that a ledger is written from. */
export interface Analysis {
  readonly pipeline: Pipeline;
  readonly groups: readonly RunGroup[];
  readonly outputs: readonly Output[];
  readonly model: LabEffectModel;
  readonly plan: SubsetPlan;
  /** Results of each subset of the plan at the author's values. */
  readonly subsets: Float64Array;
  readonly drawn: Drawn;
  readonly deviations: Float64Array;
  readonly measured: readonly (MeasuredOutput | null)[];
  readonly chance: RunChance;
  readonly drawMeasured: DrawMeasured;
  /** One list a group. */
  readonly stepShifts: readonly (readonly StepShift[])[];
}

/** What the steps of the reduction do to the ideal simulation, group by group. */
export function measureGroupShifts(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
): Outcome<Analysis['stepShifts']> {
  const all: (readonly StepShift[])[] = [];
  for (const group of groups) {
    const shifts = measureStepShifts(pipeline, group, pipeline.nominal, 0);
    if (!shifts.ok) return shifts;
    all.push(shifts.value);
  }
  return succeed(all);
}
