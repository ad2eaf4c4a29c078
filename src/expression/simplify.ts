import {
  add,
  call,
  choose,
  divide,
  isZero,
  multiply,
  negate,
  number,
  plainValue,
  power,
  subtract,
  ZERO,
} from './build.ts';
import { FUNCTIONS } from './functions.ts';
import { makeSharer } from './share.ts';
import type { Tree } from './tree.ts';
import { childrenOf, labelOf, mapTree } from './walk.ts';

/**
 * The tree without parts that change no value: sums with 0, products with 0 and 1, double signs, choices
 * between alike branches, integrals over nothing; plain numbers are worked out where the result is short, functions
 * of them where it is a whole number exactly.
 *
 * The value stays the same wherever every part of the tree is finite, save the sign of a zero. Nothing is
 * expanded, collected or reordered.
 */
export function simplify(tree: Tree): Tree {
  const share = makeSharer();
  return mapTree(tree, (node) => share(simplifyNode(share(node))));
}

/** The parts below are simple already, and like parts are one object. */
function simplifyNode(node: Tree): Tree {
  switch (node.kind) {
    case 'negate':
      return keepSpan(node, negate(node.operand));
    case 'arithmetic':
      return keepSpan(node, simplifyArithmetic(node));
    case 'choose': {
      const selector = plainValue(node.selector);
      if (selector !== undefined) return selector > 0 ? node.whenTrue : node.whenFalse;
      if (node.whenTrue === node.whenFalse) return node.whenTrue;
      return keepSpan(node, choose(node.selector, node.whenTrue, node.whenFalse));
    }
    case 'call':
      return simplifyCall(node);
    default:
      return node;
  }
}

function simplifyArithmetic(node: Tree & { kind: 'arithmetic' }): Tree {
  const { left, right } = node;
  switch (node.operator) {
    case '+':
      return add(left, right);
    case '-':
      return subtract(left, right);
    case '*':
      return multiply(left, right);
    case '/':
      return divide(left, right);
    case '^':
      return power(left, right);
  }
}

function simplifyCall(node: Tree & { kind: 'call' }): Tree {
  const parts = node.arguments;
  if (node.name === 'if' && parts[1] === parts[2]) return parts[1];
  if (node.name === 'integrate' && (isZero(parts[0]) || parts[2] === parts[3])) return ZERO;
  if (node.name === 'dry' && isZero(parts[0])) return ZERO;
  if (node.name === 'interpolate' && plainValue(parts[2] ?? ZERO) === 0)
    return keepSpan(node, call('interpolate', parts[0], parts[1]));
  const value = exactValue(node);
  return value === undefined ? node : number(value, node.span);
}

/**
 * Values at which elementary functions can be whole numbers without rounding: sqrt(0), cos(0), ln(1) are, while
 * tanh(50) only looks like one.
 */
const EXACT_AT: readonly number[] = [0, 1, -1];

/** Functions whose whole values are exact at any argument. A square root is checked by its square. */
const EXACT_EVERYWHERE: readonly string[] = ['abs', 'min', 'max', 'sign'];

/** The value of a function of plain numbers where it is a whole number and exactly so. */
function exactValue({ name, arguments: parts }: Tree & { kind: 'call' }): number | undefined {
  const numbers = parts.map((part) => (hasUnit(part) ? undefined : plainValue(part)));
  const given = numbers.filter((value) => value !== undefined);
  if (given.length === 0 || given.length < parts.length) return undefined;
  const value = FUNCTIONS[name]?.evaluate?.(...given);
  if (value === undefined || !Number.isSafeInteger(value)) return undefined;
  const isExact =
    EXACT_EVERYWHERE.includes(name) ||
    given.every((argument) => EXACT_AT.includes(argument)) ||
    (name === 'sqrt' && value * value === given[0]);
  return isExact ? value : undefined;
}

function hasUnit(tree: Tree): boolean {
  return tree.kind === 'negate' ? hasUnit(tree.operand) : tree.kind === 'number' && tree.unit !== undefined;
}

/** The old node where nothing has changed, so that shared parts stay one object. */
function keepSpan(node: Tree, made: Tree): Tree {
  if (labelOf(made) !== labelOf(node)) return made;
  const before = childrenOf(node);
  const unchanged = childrenOf(made).every((child, index) => child === before[index]);
  return unchanged ? node : { ...made, span: node.span };
}
