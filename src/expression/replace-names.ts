import { ExpressionTooLarge, MAX_MADE_NODES } from './limits.ts';
import type { Tree } from './tree.ts';
import { foldTree, nameAt, namesIn, nodesOf, withChildren } from './walk.ts';

/** What takes the derivative of the first argument with respect to the name. */
export type Derive = (tree: Tree, name: string) => Tree;

/**
 * The work of `substitute`; the derivative is an argument so that differentiation can use substitution itself.
 *
 * - A name with primes stays: `totalTimeDerivative` resolves those first.
 * - The variable of an integral is not replaced; it gets another name where a replacement would be caught by it.
 * - In `d(f, x)` names of f are replaced before the derivative is taken, so that a helper which hides x counts;
 *   where x itself is replaced, the derivative is taken first.
 *
 * @throws ExpressionTooLarge beyond `MAX_MADE_NODES` distinct nodes
 */
export function replaceNames(tree: Tree, replacements: ReadonlyMap<string, Tree>, derive: Derive): Tree {
  const free = namesIn(tree);
  const used = new Map([...replacements].filter(([name]) => free.has(name)));
  if (used.size === 0) return tree;
  const incoming = new Set<string>();
  for (const replacement of used.values()) for (const name of namesIn(replacement)) incoming.add(name);
  const made = foldTree<Tree>(tree, (node, below) => {
    if (node.kind === 'name') return node.primes === 0 ? (used.get(node.name) ?? node) : node;
    if (node.kind !== 'call') return withChildren(node, below);
    if (node.name === 'integrate') return replaceInIntegral(node, below, used, incoming, derive);
    if (node.name === 'interpolate') return withChildren(node, [node.arguments[0], ...below.slice(1)]);
    if (node.name === 'd') {
      const variable = nameAt(node, 1);
      if (used.has(variable)) return replaceNames(derive(node.arguments[0], variable), used, derive);
      return withChildren(node, [below[0], node.arguments[1]]);
    }
    return withChildren(node, below);
  });
  if (nodesOf(made).length > MAX_MADE_NODES) {
    throw new ExpressionTooLarge(`Substitution made more than ${MAX_MADE_NODES} parts.`);
  }
  return made;
}

function replaceInIntegral(
  node: Tree & { kind: 'call' },
  below: readonly Tree[],
  replacements: ReadonlyMap<string, Tree>,
  incoming: ReadonlySet<string>,
  derive: Derive,
): Tree {
  const [integrand, variable] = node.arguments;
  const bound = nameAt(node, 1);
  if (!replacements.has(bound) && !incoming.has(bound))
    return withChildren(node, [below[0], variable, below[2], below[3]]);
  const inner = new Map(replacements);
  inner.delete(bound);
  if (!incoming.has(bound))
    return withChildren(node, [replaceNames(integrand, inner, derive), variable, below[2], below[3]]);
  const taken = new Set([...incoming, ...namesIn(integrand), ...replacements.keys()]);
  let fresh = bound;
  for (let count = 1; taken.has(fresh); count += 1) fresh = `${bound}_${count}`;
  const renamed: Tree = { kind: 'name', name: fresh, primes: 0, span: variable.span };
  inner.set(bound, renamed);
  return withChildren(node, [replaceNames(integrand, inner, derive), renamed, below[2], below[3]]);
}
