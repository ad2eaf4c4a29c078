import {
  add,
  call,
  choose,
  divide,
  isZero,
  multiply,
  negate,
  plainValue,
  power,
  subtract,
  ZERO,
} from './build.ts';
import { makeSharer } from './share.ts';
import type { Tree } from './tree.ts';
import { childrenOf, labelOf, mapTree } from './walk.ts';

/**
 * The tree without parts that change no value: sums with 0, products with 0 and 1, double signs, choices
 * between alike branches, integrals over nothing; plain numbers are worked out where the result is short.
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
  return node;
}

/** The old node where nothing has changed, so that shared parts stay one object. */
function keepSpan(node: Tree, made: Tree): Tree {
  if (labelOf(made) !== labelOf(node)) return made;
  const before = childrenOf(node);
  const unchanged = childrenOf(made).every((child, index) => child === before[index]);
  return unchanged ? node : { ...made, span: node.span };
}
