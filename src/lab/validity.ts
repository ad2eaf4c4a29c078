import type { Expression } from '../expression/index.ts';
import { namesIn, toText } from '../expression/index.ts';
import type { GivenStep, PreparedReduction } from '../reduction/index.ts';

/** A condition under which the model is true, with the model's helper expressions written out. */
export interface ValidityCondition {
  readonly name: string;
  readonly condition: Expression;
}

/**
 * The step that sets aside all rows from the first one at which a condition fails, in real and in simulated
 * readings alike.
 *
 * @returns null where the columns at hand do not tell whether the condition is true
 */
export function validityStep(
  validity: ValidityCondition,
  columns: PreparedReduction['columns'],
  quantities: readonly string[],
): GivenStep | null {
  const { condition, name } = validity;
  const names = [...namesIn(condition.tree)];
  const told = names.every((symbol) => columns.has(symbol) || quantities.includes(symbol));
  if (!told || !names.some((symbol) => columns.has(symbol))) return null;
  const place = condition.origin?.placeAt(0) ?? { step: `holds while, "${name}"` };
  return {
    name: 'keep',
    place,
    settings: {
      values: { to: `not (${toText(condition.tree)})` },
      placeOf: () => place,
      placeOfKey: () => place,
      originOf: () => ({ placeAt: () => place }),
    },
  };
}
