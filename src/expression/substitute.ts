import { differentiate } from './differentiate.ts';
import { replaceNames } from './replace-names.ts';
import type { Tree } from './tree.ts';

/**
 * The tree with names replaced by trees, all at once.
 *
 * - A name with primes stays: `totalTimeDerivative` resolves those first.
 * - The variable of an integral is not replaced; it gets another name where a replacement would be caught by it.
 * - In `d(f, x)` names of f are replaced before the derivative is taken, so that a helper which hides x counts;
 *   where x itself is replaced, the derivative is taken first.
 *
 * @throws ExpressionTooLarge beyond `MAX_MADE_NODES` distinct nodes
 */
export function substitute(tree: Tree, replacements: ReadonlyMap<string, Tree>): Tree {
  return replaceNames(tree, replacements, differentiate);
}
