import type { ArithmeticOperator, Span, Tree } from './tree.ts';

/** For nodes that come from no text. */
const NOWHERE: Span = { start: 0, end: 0 };

/** A plain number. */
export function number(value: number, span: Span = NOWHERE): Tree {
  return { kind: 'number', value, span };
}

export const ZERO: Tree = number(0);
export const ONE: Tree = number(1);

/** The value of a plain number or its negative; undefined for everything else. */
export function plainValue(tree: Tree): number | undefined {
  if (tree.kind === 'number') return tree.value;
  if (tree.kind === 'negate' && tree.operand.kind === 'number') return -tree.operand.value;
  return undefined;
}

/** Whether the node is the plain number 0. */
export function isZero(tree: Tree): boolean {
  return plainValue(tree) === 0;
}

/** Whether the node is the plain number 1. */
function isOne(tree: Tree): boolean {
  return plainValue(tree) === 1;
}

/** An operation as it stands, nothing left out. */
function arithmetic(operator: ArithmeticOperator, left: Tree, right: Tree): Tree {
  return { kind: 'arithmetic', operator, left, right, span: left.span };
}

/** A function of the closed set with its arguments. */
export function call(name: string, ...parts: readonly Tree[]): Tree {
  return { kind: 'call', name, arguments: parts, span: parts[0]?.span ?? NOWHERE };
}

/** `whenTrue` where `selector` > 0, else `whenFalse`; one of them where they are the same. */
export function choose(selector: Tree, whenTrue: Tree, whenFalse: Tree): Tree {
  return whenTrue === whenFalse || (isZero(whenTrue) && isZero(whenFalse))
    ? whenTrue
    : { kind: 'choose', selector, whenTrue, whenFalse, span: selector.span };
}

/*
 * The makers below leave out what changes no finite value: sums with 0, products with 0 and 1, double signs.
 * Two plain numbers become one where the double operation is the one that would be done later anyway.
 */

/** -operand. */
export function negate(operand: Tree): Tree {
  if (operand.kind === 'negate') return operand.operand;
  if (operand.kind === 'number' && operand.unit === undefined) return number(-operand.value, operand.span);
  return { kind: 'negate', operand, span: operand.span };
}

/** left + right. */
export function add(left: Tree, right: Tree): Tree {
  if (isZero(left)) return right;
  if (isZero(right)) return left;
  const folded = fold(left, right, (a, b) => a + b);
  if (folded !== undefined) return folded;
  if (right.kind === 'negate') return arithmetic('-', left, right.operand);
  if (left.kind === 'negate') return arithmetic('-', right, left.operand);
  return arithmetic('+', left, right);
}

/** left - right. */
export function subtract(left: Tree, right: Tree): Tree {
  if (isZero(right)) return left;
  if (isZero(left)) return negate(right);
  const folded = fold(left, right, (a, b) => a - b);
  if (folded !== undefined) return folded;
  if (right.kind === 'negate') return arithmetic('+', left, right.operand);
  return arithmetic('-', left, right);
}

/** left * right; 0 where a factor is 0. */
export function multiply(left: Tree, right: Tree): Tree {
  if (isZero(left) || isZero(right)) return ZERO;
  if (isOne(left)) return right;
  if (isOne(right)) return left;
  const folded = fold(left, right, (a, b) => a * b);
  if (folded !== undefined) return folded;
  if (plainValue(left) === -1) return negate(right);
  if (plainValue(right) === -1) return negate(left);
  if (left.kind === 'negate' && right.kind === 'negate') return multiply(left.operand, right.operand);
  if (left.kind === 'negate') return negate(multiply(left.operand, right));
  if (right.kind === 'negate') return negate(multiply(left, right.operand));
  return arithmetic('*', left, right);
}

/** left / right; worked out only where the result is short. */
export function divide(left: Tree, right: Tree): Tree {
  if (isOne(right)) return left;
  if (isZero(left) && !isZero(right)) return ZERO;
  if (plainValue(right) === -1) return negate(left);
  const folded = fold(left, right, (a, b) => a / b);
  if (folded !== undefined && plainValue(folded) !== undefined && isShort(plainValue(folded) ?? Number.NaN))
    return folded;
  if (left.kind === 'negate') return negate(divide(left.operand, right));
  return arithmetic('/', left, right);
}

/** base ^ exponent; 0 where the base is 0 and the exponent a number above 0. */
export function power(base: Tree, exponent: Tree): Tree {
  if (isOne(exponent)) return base;
  if (isZero(base) && (plainValue(exponent) ?? 0) > 0) return ZERO;
  if (isZero(exponent)) return ONE;
  if (isOne(base)) return ONE;
  return arithmetic('^', base, exponent);
}

function fold(left: Tree, right: Tree, operate: (a: number, b: number) => number): Tree | undefined {
  if (left.kind === 'number' && left.unit !== undefined) return undefined;
  if (right.kind === 'number' && right.unit !== undefined) return undefined;
  const a = plainValue(left);
  const b = plainValue(right);
  if (a === undefined || b === undefined) return undefined;
  const value = operate(a, b);
  return Number.isFinite(value) ? number(value, left.span) : undefined;
}

/** 1/2 may become 0.5, 1/3 stays: a reader knows it better than 0.3333333333333333. */
function isShort(value: number): boolean {
  return Number.isInteger(value * 1000);
}
