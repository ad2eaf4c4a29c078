import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import { type Output, type RunGroup, spreadByRuns } from '../run/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import type { LabEffectModel } from './lab-model.ts';
import { applyPlan, type SubsetPlan } from './subset-plan.ts';

/** Standard deviations that lines of the ledger have by chance, because each run has its own value of some quantities. */
export interface RunChance {
  /** One an output. */
  readonly ideal: Float64Array;
  readonly full: Float64Array;
  /** outputs × effects. */
  readonly shares: Float64Array;
}

/**
 * What differs from run to run, in the mean over the runs that there are, or that the plan asks for where there are
 * none.
 */
export function measureRunChance(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  plan: SubsetPlan,
  { variation, simulateRuns }: LabEffectModel,
): Outcome<RunChance> {
  const { lab } = pipeline;
  const effects = lab.effects.length;
  const chance: RunChance = {
    ideal: new Float64Array(outputs.length),
    full: new Float64Array(outputs.length),
    shares: new Float64Array(outputs.length * effects),
  };
  const runsOf = (group: number) => groups[group].trials.length || lab.plan.repeats;
  const subsets = [...plan.subsets];
  const shares = new Float64Array(outputs.length * effects);
  const spread = spreadByRuns(pipeline, groups, outputs, subsets, variation, runsOf, simulateRuns);
  if (!spread.ok) return spread;
  const add = (to: Float64Array, row: Float64Array) => {
    for (let at = 0; at < to.length; at++) to[at] = hypotenuse(to[at], row[at]);
  };
  const values = new Float64Array(subsets.length * outputs.length);
  for (const row of spread.value[0].keys()) {
    spread.value.forEach((rows, subset) => {
      values.set(rows[row], subset * outputs.length);
    });
    add(chance.ideal, spread.value[0][row]);
    add(chance.full, spread.value[subsets.length - 1][row]);
    applyPlan(plan, values, outputs.length, shares);
    add(chance.shares, shares);
  }
  return succeed(chance);
}
