import type { Outcome, Problem } from '../../src/problem/index.ts';
import { parseUnit, type Unit } from '../../src/quantity/index.ts';

/** The unit, where the test is about something else than reading it. */
export function unitNamed(text: string): Unit {
  return valueFrom(parseUnit(text));
}

export function valueFrom<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map((found) => found.message).join(' '));
}

export function problemsOf<T>(outcome: Outcome<T>): readonly Problem[] {
  return outcome.ok ? [] : outcome.problems;
}

/** Message and advice, as a person reads them. */
export function sentencesOf<T>(outcome: Outcome<T>): string[] {
  return problemsOf(outcome).map(({ message, tryThis }) =>
    tryThis === undefined ? message : `${message} ${tryThis}`,
  );
}

/** |a − b| relative to the larger. */
export function relativeDifference(a: number, b: number): number {
  return a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b));
}
