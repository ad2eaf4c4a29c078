import { power as powerOf } from '../wasm/index.ts';
import {
  add,
  call,
  choose,
  divide,
  isZero,
  multiply,
  negate,
  number,
  ONE,
  power,
  subtract,
  ZERO,
} from './build.ts';
import { functionNamed } from './functions.ts';
import { ExpressionTooLarge, MAX_MADE_NODES } from './limits.ts';
import { replaceNames } from './replace-names.ts';
import type { Tree } from './tree.ts';
import { foldTree, mapTree, nameAt, nodesOf } from './walk.ts';

/**
 * Partial derivative with respect to a name, all other names held, and x', x'' taken as other names than x.
 *
 * Where a function has a corner or a jump (abs, sign, floor, min, max, if, dry) the derivative is that of the
 * branch that holds, and that of the second branch at a tie; the derivative of `dry` with respect to its
 * limit is the sign of its v, with respect to v it is 0. Integrals are differentiated under the integral sign
 * and at their limits (Leibniz). Shared parts of the tree stay shared.
 *
 * @param tree a value, not a condition
 * @throws ExpressionTooLarge beyond `MAX_MADE_NODES` distinct nodes
 */
export function differentiate(tree: Tree, name: string): Tree {
  const plain = expandDerivatives(tree);
  const derivatives = new Map<Tree, Tree>();
  const dependent = nodesThatHold(plain, name);
  const of = (node: Tree): Tree => derivatives.get(node) ?? ZERO;
  for (const node of nodesOf(plain)) {
    if (dependent.has(node)) derivatives.set(node, derivativeOf(node, name, of));
  }
  const made = of(plain);
  if (nodesOf(made).length > MAX_MADE_NODES) {
    throw new ExpressionTooLarge(`Differentiation made more than ${MAX_MADE_NODES} parts.`);
  }
  return made;
}

/** The tree with every `d(f, x)` worked out, the innermost first. */
export function expandDerivatives(tree: Tree): Tree {
  return mapTree(tree, (node) =>
    node.kind === 'call' && node.name === 'd' ? differentiate(node.arguments[0], nameAt(node, 1)) : node,
  );
}

function nodesThatHold(tree: Tree, name: string): ReadonlySet<Tree> {
  const holding = new Set<Tree>();
  foldTree<boolean>(tree, (node, below) => {
    let holds = below.some((held) => held);
    if (node.kind === 'name') holds = node.name === name && node.primes === 0;
    if (node.kind === 'call' && node.name === 'integrate') {
      holds = below[2] || below[3] || (below[0] && nameAt(node, 1) !== name);
    }
    if (holds) holding.add(node);
    return holds;
  });
  return holding;
}

function derivativeOf(node: Tree, name: string, of: (node: Tree) => Tree): Tree {
  switch (node.kind) {
    case 'number':
      return ZERO;
    case 'name':
      return ONE;
    case 'negate':
      return negate(of(node.operand));
    case 'arithmetic':
      return derivativeOfArithmetic(node, of);
    case 'choose':
      return choose(node.selector, of(node.whenTrue), of(node.whenFalse));
    case 'call':
      return derivativeOfCall(node, name, of);
    case 'compare':
    case 'logic':
    case 'not':
      return ZERO;
  }
}

function derivativeOfArithmetic(node: Tree & { kind: 'arithmetic' }, of: (node: Tree) => Tree): Tree {
  const { left, right } = node;
  const dLeft = of(left);
  const dRight = of(right);
  switch (node.operator) {
    case '+':
      return add(dLeft, dRight);
    case '-':
      return subtract(dLeft, dRight);
    case '*':
      return add(multiply(dLeft, right), multiply(left, dRight));
    case '/':
      if (isZero(dRight)) return divide(dLeft, right);
      return divide(subtract(dLeft, multiply(node, dRight)), right);
    case '^':
      return add(
        isZero(dLeft) ? ZERO : multiply(multiply(right, power(left, decrement(right))), dLeft),
        isZero(dRight) ? ZERO : multiply(multiply(node, call('ln', left)), dRight),
      );
  }
}

function decrement(exponent: Tree): Tree {
  const value = constantValue(exponent);
  return value === undefined ? subtract(exponent, ONE) : number(value - 1, exponent.span);
}

function derivativeOfCall(node: Tree & { kind: 'call' }, name: string, of: (node: Tree) => Tree): Tree {
  const parts = node.arguments;
  if (node.name === 'if') {
    const [condition, whenTrue, whenFalse] = parts;
    if (isZero(of(whenTrue)) && isZero(of(whenFalse))) return ZERO;
    return call('if', condition, of(whenTrue), of(whenFalse));
  }
  if (node.name === 'integrate') return derivativeOfIntegral(node, name, of);
  if (node.name === 'interpolate') {
    const order = parts[2]?.kind === 'number' ? parts[2].value : 0;
    if (order >= 3) return ZERO;
    return multiply(call('interpolate', parts[0], parts[1], number(order + 1)), of(parts[1]));
  }
  const partials = functionNamed(node.name)?.partials;
  if (partials === undefined || partials === null) throw new Error(`"${node.name}" has no derivative.`);
  return partials(parts, node)
    .map((partial, index) => (isZero(of(parts[index])) ? ZERO : multiply(partial, of(parts[index]))))
    .reduce(add, ZERO);
}

function derivativeOfIntegral(node: Tree & { kind: 'call' }, name: string, of: (node: Tree) => Tree): Tree {
  const [integrand, variable, from, to] = node.arguments;
  const bound = nameAt(node, 1);
  const inside = bound === name ? ZERO : of(integrand);
  const at = (place: Tree) => replaceNames(integrand, new Map([[bound, place]]), differentiate);
  const upper = isZero(of(to)) ? ZERO : multiply(at(to), of(to));
  const lower = isZero(of(from)) ? ZERO : multiply(at(from), of(from));
  const under = isZero(inside) ? ZERO : call('integrate', inside, variable, from, to);
  return add(subtract(upper, lower), under);
}

/** The value of a tree of plain numbers and operators; undefined where a symbol or function stands in it. */
export function constantValue(tree: Tree): number | undefined {
  for (const node of nodesOf(tree)) {
    const plain =
      (node.kind === 'number' && node.unit === undefined) ||
      node.kind === 'negate' ||
      node.kind === 'arithmetic';
    if (!plain) return undefined;
  }
  return foldTree<number>(tree, (node, below) => {
    if (node.kind === 'number') return node.value;
    if (node.kind === 'negate') return -below[0];
    if (node.kind !== 'arithmetic') return Number.NaN;
    switch (node.operator) {
      case '+':
        return below[0] + below[1];
      case '-':
        return below[0] - below[1];
      case '*':
        return below[0] * below[1];
      case '/':
        return below[0] / below[1];
      case '^':
        return powerOf(below[0], below[1]);
    }
  });
}
