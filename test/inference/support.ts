import { expect } from 'vitest';
import {
  compileColumns,
  differentiate,
  parseExpression,
  simplify,
  type Tree,
} from '../../src/expression/index.ts';
import type { Evaluate } from '../../src/inference/index.ts';
import type { Outcome, Problem } from '../../src/problem/index.ts';

/** The value, where the test is about a success. */
export function valueFrom<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map((found) => found.message).join(' '));
}

export function problemsOf<T>(outcome: Outcome<T>): readonly Problem[] {
  return outcome.ok ? [] : outcome.problems;
}

/** Significant digits to which each value agrees with what was expected, the fewest of them. */
function agreeingDigits(found: ArrayLike<number>, expected: ArrayLike<number>): number {
  let fewest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < expected.length; i += 1) {
    const size = expected[i] === 0 ? 1 : Math.abs(expected[i]);
    const difference = Math.abs(found[i] - expected[i]) / size;
    fewest = Math.min(fewest, difference === 0 ? 17 : -Math.log10(difference));
  }
  return fewest;
}

export function expectDigits(found: ArrayLike<number>, expected: ArrayLike<number>, digits: number): void {
  const pairs = Array.from(expected, (value, i) => `${found[i]} for ${value}`).join(', ');
  expect(agreeingDigits(found, expected), pairs).toBeGreaterThanOrEqual(digits);
}

export function treeOf(text: string): Tree {
  return valueFrom(parseExpression(text)).tree;
}

/** A model given as text, with exact derivatives, over columns of data. */
export function modelOf(
  text: string,
  parameters: readonly string[],
  columns: ReadonlyMap<string, Float64Array>,
): Evaluate {
  const tree = treeOf(text);
  const names = [...columns.keys()];
  const data = [...columns.values()];
  const value = compileColumns(tree, names, [...parameters]);
  const derivatives = parameters.map((name) =>
    compileColumns(simplify(differentiate(tree, name)), names, [...parameters]),
  );
  return (at, values, jacobian) => {
    value(data, at, values);
    jacobian?.forEach((column, j) => {
      derivatives[j](data, at, column);
    });
  };
}
