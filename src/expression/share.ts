import type { Tree } from './tree.ts';
import { childrenOf, labelOf, nodesOf, withChildren } from './walk.ts';

/**
 * The trees with like parts made one and the same object, across all of them; spans of the first stay.
 *
 * What works by identity afterwards meets each distinct part once.
 */
export function shareParts(trees: readonly Tree[]): readonly Tree[] {
  const kept = new Map<string, Tree>();
  const numbers = new Map<Tree, number>();
  const shared = new Map<Tree, Tree>();
  const sharedOf = (tree: Tree): Tree => shared.get(tree) ?? tree;
  for (const tree of trees) {
    for (const node of nodesOf(tree)) {
      if (shared.has(node)) continue;
      const below = childrenOf(node).map(sharedOf);
      const key = `${labelOf(node)}:${below.map((child) => numbers.get(child)).join(',')}`;
      const known = kept.get(key) ?? withChildren(node, below);
      if (!kept.has(key)) {
        kept.set(key, known);
        numbers.set(known, kept.size);
      }
      shared.set(node, known);
    }
  }
  return trees.map(sharedOf);
}
