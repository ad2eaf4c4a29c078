import type { Expression } from '../expression/index.ts';
import { namesIn, toText } from '../expression/index.ts';
import type { Outcome } from '../problem/index.ts';
import type { PreparedStep, ReductionContext } from '../reduction/index.ts';
import { eachRunSteps } from '../reduction/index.ts';

/** A condition under which the model is true, with the model's helper expressions written out. */
export interface ValidityCondition {
  readonly name: string;
  readonly condition: Expression;
}

/**
 * Makes the step that sets aside all rows from the first one at which a condition fails, in real and in simulated
 * readings alike.
 *
 * @returns null where the columns at hand do not tell whether the condition is true
 */
export function prepareValidityStep(
  validity: ValidityCondition,
  context: ReductionContext,
): Outcome<PreparedStep> | null {
  const { condition, name } = validity;
  const names = [...namesIn(condition.tree)];
  const told = names.every((symbol) => context.columns.has(symbol) || context.quantities.includes(symbol));
  if (!told || !names.some((symbol) => context.columns.has(symbol))) return null;
  const keep = eachRunSteps.get('keep');
  if (keep === undefined) return null;
  const placeAt = (offset: number) => condition.origin?.placeAt(offset) ?? { step: `holds while, "${name}"` };
  return keep.prepare(
    {
      values: { to: `not (${toText(condition.tree)})` },
      placeOf: () => placeAt(0),
      placeOfKey: () => placeAt(0),
      originOf: () => ({ placeAt: () => placeAt(0) }),
    },
    context,
  );
}
