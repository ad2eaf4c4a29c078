import type { LabForm } from './form.ts';
import { baseQuantitiesBehind } from './quantity-function.ts';
import type { Quantities, Quantity } from './quantity-section.ts';

/** The quantities that the plan or a trial sets, and those that are computed from them. */
export function findVaried({ plan, trials }: LabForm, quantities: Quantities): readonly Quantity[] {
  const set = new Set([
    ...Object.keys(plan?.settings ?? {}),
    ...(trials ?? []).flatMap((trial) => Object.keys(trial.when ?? {})),
  ]);
  return quantities.all.filter(({ name }) =>
    [...baseQuantitiesBehind([name], quantities)].some((index) =>
      set.has(quantities.base[index]?.name ?? ''),
    ),
  );
}
