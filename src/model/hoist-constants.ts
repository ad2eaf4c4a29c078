import { childrenOf, divide, multiply, namesIn, number, shareParts, type Tree } from '../expression/index.ts';
import { constantName, symbol } from './switch-list.ts';

/** Trees with their parameter-only parts taken out, and those parts: constant k is called `constantName(k)`. */
export interface Hoisted {
  readonly trees: readonly Tree[];
  readonly constants: readonly Tree[];
}

/**
 * Takes out of trees what depends on parameters alone, so that it is worked out once a motion.
 *
 * A division by such a part becomes a product with its reciprocal: a division costs several products.
 *
 * @param parameters names that do not change along the motion
 * @param wanted     parts that must become constants whatever they are; they come first
 */
export function hoistConstants(
  trees: readonly Tree[],
  parameters: ReadonlySet<string>,
  wanted: readonly Tree[],
): Hoisted {
  const shared = shareParts([...wanted, ...trees]);
  const constants: Tree[] = [...shared.slice(0, wanted.length)];
  const names = new Map<Tree, Tree>();
  const done = new Map<Tree, Tree>();
  const fixed = new Map<Tree, boolean>();
  const isFixed = (tree: Tree): boolean => {
    const known = fixed.get(tree);
    if (known !== undefined) return known;
    const found = [...namesIn(tree)];
    const answer = found.length > 0 && found.every((name) => parameters.has(name));
    fixed.set(tree, answer);
    return answer;
  };
  const nameOf = (tree: Tree): Tree => {
    const known = names.get(tree);
    if (known !== undefined) return known;
    const name = symbol(constantName(constants.length));
    constants.push(tree);
    names.set(tree, name);
    return name;
  };
  const reciprocals = new Map<Tree, Tree>();
  const reciprocalOf = (tree: Tree): Tree => {
    const known = reciprocals.get(tree) ?? divide(number(1), tree);
    reciprocals.set(tree, known);
    return nameOf(known);
  };
  const visit = (tree: Tree): Tree => {
    const known = done.get(tree);
    if (known !== undefined) return known;
    const made = rewrite(tree);
    done.set(tree, made);
    return made;
  };
  const rewrite = (tree: Tree): Tree => {
    if (isValue(tree) && isFixed(tree)) return tree.kind === 'name' ? tree : nameOf(tree);
    switch (tree.kind) {
      case 'number':
      case 'name':
        return tree;
      case 'negate':
      case 'not':
        return { ...tree, operand: visit(tree.operand) };
      case 'arithmetic':
        if (tree.operator === '/' && isFixed(tree.right)) {
          return multiply(visit(tree.left), reciprocalOf(tree.right));
        }
        return { ...tree, left: visit(tree.left), right: visit(tree.right) };
      case 'compare':
      case 'logic':
        return { ...tree, left: visit(tree.left), right: visit(tree.right) };
      case 'choose':
        return {
          ...tree,
          selector: visit(tree.selector),
          whenTrue: visit(tree.whenTrue),
          whenFalse: visit(tree.whenFalse),
        };
      case 'call':
        return {
          ...tree,
          arguments: childrenOf(tree).map((part, at) => (isBareName(tree, at) ? part : visit(part))),
        };
    }
  };
  return { trees: shared.slice(wanted.length).map(visit), constants };
}

/** A condition is true or false, not a number to be kept. */
function isValue(tree: Tree): boolean {
  return tree.kind !== 'compare' && tree.kind !== 'logic' && tree.kind !== 'not';
}

/** The variable of an integral or derivative and the table of an interpolation are names, not values. */
function isBareName(tree: Tree & { kind: 'call' }, index: number): boolean {
  if (tree.name === 'interpolate') return index === 0;
  return (tree.name === 'integrate' || tree.name === 'd') && index === 1;
}
