import type { Pipeline } from '../lab/index.ts';
import { allEffects, type Output, type RunGroup, valuesOfGroup } from '../run/index.ts';

/** What the formulas of the theory say of each output, SI; NaN where there is no formula. */
export function theoryValues(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
  base: Float64Array,
  values: Float64Array,
): void {
  const subset = allEffects(pipeline.lab);
  const ofGroup = groups.map((group) => valuesOfGroup(pipeline, base, group, subset));
  const own = pipeline.values(base);
  outputs.forEach(({ result, group }, index) => {
    const quantities = group === null ? own : (ofGroup[group] ?? own);
    values[index] = result.theory?.evaluate(quantities) ?? Number.NaN;
  });
}
