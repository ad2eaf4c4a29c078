import type { Tree } from './tree.ts';

/** Symbols with a fixed meaning in every expression. */
export const CONSTANTS: ReadonlyMap<string, number> = new Map([
  ['pi', Math.PI],
  ['π', Math.PI],
]);

/** The nodes directly below a node, left to right; the second argument of `integrate` and `d` is among them. */
export function childrenOf(tree: Tree): readonly Tree[] {
  switch (tree.kind) {
    case 'number':
    case 'name':
      return [];
    case 'negate':
    case 'not':
      return [tree.operand];
    case 'arithmetic':
    case 'compare':
    case 'logic':
      return [tree.left, tree.right];
    case 'call':
      return tree.arguments;
    case 'choose':
      return [tree.selector, tree.whenTrue, tree.whenFalse];
  }
}

/**
 * Every distinct node once, each after the nodes below it.
 *
 * Trees made by substitution share nodes, and then hold far fewer distinct nodes than a walk along every
 * path would meet; and they can be deeper than a call stack. So every pass over trees goes by this list.
 *
 * @param below which nodes below a node count, where not all do
 */
export function nodesOf(root: Tree, below: (tree: Tree) => readonly Tree[] = childrenOf): readonly Tree[] {
  const done = new Set<Tree>();
  const stack = [root];
  while (stack.length > 0) {
    const tree = stack[stack.length - 1];
    if (done.has(tree)) {
      stack.pop();
      continue;
    }
    const waiting = below(tree).filter((child) => !done.has(child));
    if (waiting.length === 0) {
      done.add(tree);
      stack.pop();
    } else {
      stack.push(...waiting.reverse());
    }
  }
  return [...done];
}

/** Visits every distinct node once, each after the nodes below it. */
export function walkTree(tree: Tree, visit: (node: Tree) => void): void {
  for (const node of nodesOf(tree)) visit(node);
}

/** The node with other nodes below it; the same object where nothing changes. */
export function withChildren(tree: Tree, children: readonly Tree[]): Tree {
  const before = childrenOf(tree);
  if (before.every((child, index) => child === children[index])) return tree;
  switch (tree.kind) {
    case 'number':
    case 'name':
      return tree;
    case 'negate':
    case 'not':
      return { ...tree, operand: children[0] };
    case 'arithmetic':
    case 'compare':
    case 'logic':
      return { ...tree, left: children[0], right: children[1] };
    case 'call':
      return { ...tree, arguments: children };
    case 'choose':
      return { ...tree, selector: children[0], whenTrue: children[1], whenFalse: children[2] };
  }
}

/**
 * The tree that comes of changing every node, from the leaves up; shared nodes stay shared.
 *
 * @param change gets the node with its children already changed. It also meets the second argument of
 *               `integrate` and `d` and the table of `interpolate`: names that are not values.
 */
export function mapTree(tree: Tree, change: (node: Tree) => Tree): Tree {
  return foldTree<Tree>(tree, (node, children) => change(withChildren(node, children)));
}

/** The value of the root, where the value of each node follows from the values of the nodes below it. */
export function foldTree<T>(tree: Tree, combine: (node: Tree, below: readonly T[]) => T): T {
  const values = new Map<Tree, T>();
  const valueOfNode = (node: Tree): T => {
    const value = values.get(node);
    if (value === undefined) throw new Error('A node was met before the nodes below it.');
    return value;
  };
  for (const node of nodesOf(tree)) values.set(node, combine(node, childrenOf(node).map(valueOfNode)));
  return valueOfNode(tree);
}

/** How a name is looked up: a symbol, or a symbol with its primes. */
export function keyOf(node: { readonly name: string; readonly primes: number }): string {
  return node.primes === 0 ? node.name : node.name + "'".repeat(node.primes);
}

/** The name that `integrate` or `d` holds as its second argument, or the table of `interpolate`. */
export function nameAt(node: { readonly arguments: readonly Tree[] }, index: number): string {
  const found = node.arguments[index];
  if (found?.kind !== 'name') throw new Error(`Argument ${index + 1} must be a name.`);
  return found.name;
}

const NO_NAMES: ReadonlySet<string> = new Set();

/**
 * The free names of a tree: symbols whose value must be given.
 *
 * The variable of an integral is bound, tables and constants are no values; `x'` counts as `x`, and so does
 * the variable of `d(f, x)`.
 */
export function namesIn(tree: Tree): ReadonlySet<string> {
  return foldTree<ReadonlySet<string>>(tree, (node, below) => {
    if (node.kind === 'name') return CONSTANTS.has(node.name) ? NO_NAMES : new Set([node.name]);
    if (node.kind === 'call' && node.name === 'integrate') {
      const inside = new Set(below[0]);
      inside.delete(nameAt(node, 1));
      return union([inside, below[2], below[3]]);
    }
    if (node.kind === 'call' && node.name === 'interpolate') return union(below.slice(1));
    return union(below);
  });
}

function union(sets: readonly ReadonlySet<string>[]): ReadonlySet<string> {
  const filled = sets.filter((set) => set.size > 0);
  if (filled.length === 0) return NO_NAMES;
  const largest = filled.reduce((a, b) => (b.size > a.size ? b : a));
  const all = new Set(largest);
  for (const set of filled) for (const name of set) all.add(name);
  return all.size === largest.size ? largest : all;
}

/** Whether the node is true or false rather than a value. */
export function isCondition(tree: Tree): boolean {
  return tree.kind === 'compare' || tree.kind === 'logic' || tree.kind === 'not';
}

/** What a node is, apart from the nodes below it and its span. */
export function labelOf(tree: Tree): string {
  switch (tree.kind) {
    case 'number':
      return `number ${Object.is(tree.value, -0) ? '-0' : tree.value} ${tree.unit ?? ''}`;
    case 'name':
      return `name ${keyOf(tree)}`;
    case 'arithmetic':
    case 'compare':
    case 'logic':
      return `${tree.kind} ${tree.operator}`;
    case 'call':
      return `call ${tree.name}`;
    case 'negate':
    case 'not':
    case 'choose':
      return tree.kind;
  }
}
