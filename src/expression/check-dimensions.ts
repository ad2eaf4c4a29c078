import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { type Dimension, dimensionless, sameDimension, unknownDimension } from '../quantity/index.ts';
import { DimensionChecker, isKnown } from './dimension-checker.ts';
import { says } from './dimension-words.ts';
import type { Equation } from './equation.ts';
import type { Expected, Scope } from './scope.ts';
import type { Expression, Tree } from './tree.ts';
import { isCondition } from './walk.ts';

/**
 * Checks an expression against the known symbols and finds its dimension.
 *
 * A plain number is dimensionless, save a bare 0, which fits beside any dimension. All problems are told:
 * unknown symbols and tables with the nearest known one, sums, comparisons and choices of unlike dimensions
 * with both, powers and functions of what must be a plain number, and a result other than the expected one.
 *
 * @param expression as parsed, not yet changed by the program
 * @param expected   where given, the dimension that the value must have
 */
export function checkDimensions(
  expression: Expression,
  scope: Scope,
  expected?: Expected,
): Outcome<Dimension> {
  const checker = new DimensionChecker(expression, scope);
  if (isCondition(expression.tree)) {
    checker.tell('condition-as-value', expression.tree, (text) =>
      expected === undefined
        ? `${text} is true or false; a value would be right here.`
        : `${text} is true or false; ${expected.what} must be a value.`,
    );
    return fail(...checker.problems);
  }
  const found = checker.dimensionOf(expression.tree);
  if (expected !== undefined && isKnown(found) && !sameDimension(found, expected.dimension)) {
    checker.tellUnexpected(expression.tree, found, expected);
  }
  if (checker.problems.length > 0) return fail(...checker.problems);
  // Nothing was told and yet nothing is known: a symbol's own definition is faulty, which was told there.
  if (found === null) return succeed(unknownDimension);
  return succeed(isKnown(found) ? found : (expected?.dimension ?? dimensionless));
}

/** Checks a condition like `checkDimensions`; fails where the expression is a value. */
export function checkCondition(expression: Expression, scope: Scope): Outcome<void> {
  const checker = new DimensionChecker(expression, scope);
  checker.checkCondition(expression.tree);
  return checker.problems.length > 0 ? fail(...checker.problems) : succeed(undefined);
}

/** Checks both sides of an equation and that their dimensions are alike; gives their dimension. */
export function checkEquation(equation: Equation, scope: Scope): Outcome<Dimension> {
  const left = checkDimensions(equation.left, scope);
  const right = checkDimensions(equation.right, scope);
  if (!left.ok || !right.ok)
    return fail(...(left.ok ? [] : left.problems), ...(right.ok ? [] : right.problems));
  if (isBareZero(equation.left.tree)) return right;
  if (isBareZero(equation.right.tree) || sameDimension(left.value, right.value)) return left;
  const { start } = equation.right.tree.span;
  return fail(
    problem(
      'wrong-dimension',
      equation.right.origin?.placeAt(start) ?? {},
      `The left side ${says(left.value)}, the right side ${says(right.value)}; the sides of an equation must be alike.`,
    ),
  );
}

function isBareZero(tree: Tree): boolean {
  return tree.kind === 'number' && tree.unit === undefined && tree.value === 0;
}
