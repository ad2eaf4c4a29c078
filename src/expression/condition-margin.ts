import { call, subtract } from './build.ts';
import type { Tree } from './tree.ts';

/**
 * A value that is at or above zero where a condition is true, and below zero where it is false.
 *
 * a > b and a >= b give a - b, `and` the lesser, `or` the larger, `not` the negative; so at a margin of exactly
 * zero a strict and a loose comparison look alike. The margin is for finding the place where the condition
 * changes, and its dimension means nothing where margins of several dimensions are joined.
 *
 * @param tree a condition
 */
export function conditionMargin(tree: Tree): Tree {
  switch (tree.kind) {
    case 'compare':
      return tree.operator === '>' || tree.operator === '>='
        ? subtract(tree.left, tree.right)
        : subtract(tree.right, tree.left);
    case 'logic':
      return call(
        tree.operator === 'and' ? 'min' : 'max',
        conditionMargin(tree.left),
        conditionMargin(tree.right),
      );
    case 'not':
      return { kind: 'negate', operand: conditionMargin(tree.operand), span: tree.span };
    default:
      throw new Error('Only a condition has a margin.');
  }
}
