import type { Expression, Tree } from '../expression/index.ts';
import { childrenOf, ExpressionTooLarge, namesIn, nodesOf, toText } from '../expression/index.ts';
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
 * @throws ExpressionTooLarge where the condition is too long to be written out
 */
export function validityStep(
  validity: ValidityCondition,
  columns: PreparedReduction['columns'],
  quantities: readonly string[],
): GivenStep | null {
  const { condition, name } = validity;
  if (countPlaces(condition.tree) > MOST_PLACES) throw new ExpressionTooLarge();
  const names = [...namesIn(condition.tree)];
  const told = names.every((symbol) => columns.has(symbol) || quantities.includes(symbol));
  if (!told || !names.some((symbol) => columns.has(symbol))) return null;
  const place = condition.origin?.placeAt(0) ?? { step: `holds while, "${name}"` };
  return {
    name: 'keep',
    place,
    settings: {
      words: `while ${name}`,
      values: { to: `not (${toText(condition.tree)})` },
      placeOf: () => place,
      placeOfKey: () => place,
      originOf: () => ({ placeAt: () => place }),
    },
  };
}

/** Longer conditions than this are not written out: helpers of helpers can double with every definition. */
const MOST_PLACES = 2000;

/** How many nodes the tree has once shared parts are written out at every place where they stand. */
function countPlaces(tree: Tree): number {
  const counts = new Map<Tree, number>();
  for (const node of nodesOf(tree)) {
    counts.set(
      node,
      childrenOf(node).reduce((sum, child) => sum + (counts.get(child) ?? 0), 1),
    );
  }
  return counts.get(tree) ?? 1;
}
