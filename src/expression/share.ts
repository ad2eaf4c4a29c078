import type { Tree } from './tree.ts';
import { childrenOf, labelOf, mapTree, withChildren } from './walk.ts';

/**
 * Makes a keeper of parts: it gives back the first like node that it was given, spans apart.
 *
 * Nodes must come after the nodes below them; a few levels of unseen nodes may come along.
 */
export function makeSharer(): (node: Tree) => Tree {
  const kept = new Map<string, Tree>();
  const numbers = new Map<Tree, number>();
  const share = (node: Tree): Tree => {
    if (numbers.has(node)) return node;
    const below = childrenOf(node).map((child) => (numbers.has(child) ? child : share(child)));
    const key = `${labelOf(node)}:${below.map((child) => numbers.get(child)).join(',')}`;
    const known = kept.get(key);
    if (known !== undefined) return known;
    const made = withChildren(node, below);
    kept.set(key, made);
    numbers.set(made, kept.size);
    return made;
  };
  return share;
}

/**
 * The trees with like parts made one and the same object, across all of them; spans of the first stay.
 *
 * What works by identity afterwards meets each distinct part once.
 */
export function shareParts(trees: readonly Tree[]): readonly Tree[] {
  const share = makeSharer();
  return trees.map((tree) => mapTree(tree, share));
}

/** Whether two trees are alike in everything but their spans. */
export function sameTree(left: Tree, right: Tree): boolean {
  const [a, b] = shareParts([left, right]);
  return a === b;
}
