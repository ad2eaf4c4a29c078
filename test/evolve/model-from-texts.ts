import { type Expression, parseExpression, type Table } from '../../src/expression/index.ts';
import { buildModel, type Model, type ModelSource } from '../../src/model/index.ts';
import { formatProblem, type Outcome } from '../../src/problem/index.ts';
import { type Dimension, parseUnit } from '../../src/quantity/index.ts';

/** A model as texts; parameters carry value (SI) and unit. */
export interface ModelTexts {
  readonly parameters: Readonly<Record<string, readonly [number, string]>>;
  readonly helpers?: Readonly<Record<string, string>>;
  readonly states: Readonly<Record<string, readonly [start: string, rate: string]>>;
  readonly stops?: Readonly<Record<string, string>>;
  readonly lasts?: string;
  readonly holdsWhile?: Readonly<Record<string, string>>;
  readonly jumps?: Readonly<Record<string, { when: string; sets: Readonly<Record<string, string>> }>>;
  readonly signals?: Readonly<Record<string, string>>;
  readonly tables?: ReadonlyMap<string, Table>;
}

function expression(text: string): Expression {
  const parsed = parseExpression(text);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.problems.map(formatProblem).join('\n')}`);
  return parsed.value;
}

export function dimension(unit: string): Dimension {
  const parsed = parseUnit(unit);
  if (!parsed.ok) throw new Error(parsed.problems.map(formatProblem).join('\n'));
  return parsed.value.dimension;
}

export function sourceOf(texts: ModelTexts): ModelSource {
  const named = (entries: Readonly<Record<string, string>> | undefined) =>
    Object.entries(entries ?? {}).map(([name, text]) => ({ name, expression: expression(text) }));
  const conditions = (entries: Readonly<Record<string, string>> | undefined) =>
    Object.entries(entries ?? {}).map(([name, text]) => ({ name, condition: expression(text) }));
  return {
    parameters: Object.entries(texts.parameters).map(([name, [, unit]]) => ({
      name,
      dimension: dimension(unit),
    })),
    helpers: named(texts.helpers),
    states: Object.entries(texts.states).map(([name, [start, rate]]) => ({
      name,
      start: expression(start),
      rate: expression(rate),
    })),
    stops: conditions(texts.stops),
    ...(texts.lasts === undefined ? {} : { lasts: expression(texts.lasts) }),
    holdsWhile: conditions(texts.holdsWhile),
    jumps: Object.entries(texts.jumps ?? {}).map(([name, { when, sets }]) => ({
      name,
      condition: expression(when),
      sets: named(sets),
    })),
    signals: named(texts.signals),
    ...(texts.tables === undefined ? {} : { tables: texts.tables }),
  };
}

export function valuesOf(texts: ModelTexts, changes: Readonly<Record<string, number>> = {}): Float64Array {
  return Float64Array.from(Object.entries(texts.parameters).map(([name, [value]]) => changes[name] ?? value));
}

export function modelOf(texts: ModelTexts): Model {
  return unwrap(buildModel(sourceOf(texts)));
}

export function unwrap<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(formatProblem).join('\n'));
  return outcome.value;
}

/** The sentences of a failure. */
export function problemsOf(outcome: Outcome<unknown>): string[] {
  return outcome.ok ? [] : outcome.problems.map(formatProblem);
}
