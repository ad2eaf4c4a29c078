import type { Scope, Tree } from '../expression/index.ts';
import { checkDimensions, namesIn, substitute } from '../expression/index.ts';
import type { Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { unknownDimension } from '../quantity/index.ts';
import type { Helpers } from './surroundings.ts';

/** Helper expressions, each checked once and with the helpers that it needs put in. */
export interface ResolvedHelpers {
  /** Unknown for a helper with a problem. */
  readonly dimensions: ReadonlyMap<string, Dimension>;
  /** Trees share the parts that they have in common, so that helpers of helpers do not multiply. */
  readonly trees: ReadonlyMap<string, Tree>;
  readonly problems: readonly Problem[];
}

/**
 * Resolves helper expressions, which may use one another in any order but not in a circle.
 *
 * @param scope what they may name beside one another
 * @throws ExpressionTooLarge where they grow too large
 */
export function resolveHelpers(helpers: Helpers, scope: Scope): ResolvedHelpers {
  const dimensions = new Map<string, Dimension>();
  const trees = new Map<string, Tree>();
  const problems: Problem[] = [];
  const open: string[] = [];
  const wider: Scope = {
    ...scope,
    dimensionOf: (name) => dimensions.get(name) ?? scope.dimensionOf(name),
    names: () => [...scope.names(), ...helpers.keys()],
  };
  const visit = (name: string): void => {
    const helper = helpers.get(name);
    if (helper === undefined || trees.has(name)) return;
    if (open.includes(name)) {
      const circle = [...open.slice(open.indexOf(name)), name].join(' → ');
      const place = helper.origin?.placeAt(0) ?? {};
      const message = `${name} is defined through itself: ${circle}.`;
      problems.push(problem('circular-definition', place, message, 'Write one of them without the others.'));
      dimensions.set(name, unknownDimension);
      return;
    }
    open.push(name);
    for (const needed of namesIn(helper.tree)) visit(needed);
    open.pop();
    const checked = checkDimensions(helper, wider);
    if (!checked.ok) problems.push(...checked.problems);
    dimensions.set(name, checked.ok ? checked.value : unknownDimension);
    trees.set(name, substitute(helper.tree, trees));
  };
  for (const name of helpers.keys()) visit(name);
  return { dimensions, trees, problems };
}
