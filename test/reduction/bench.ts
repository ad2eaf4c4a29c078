import type { InstrumentKind, Readings, SettingValue, SignalShape } from '../../src/instrument/index.ts';
import { instrumentKinds } from '../../src/instrument/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { formatProblem } from '../../src/problem/index.ts';
import type { Dimension } from '../../src/quantity/index.ts';
import {
  acrossRunsSteps,
  beginRun,
  eachRunSteps,
  type GivenSettings,
  type GivenStep,
  type PreparedReduction,
  prepareReduction,
  type ReductionContext,
  type RowSet,
  type RunState,
} from '../../src/reduction/index.ts';

export const ONE: Dimension = [0, 0, 0, 0, 0, 0, 0];
export const LENGTH: Dimension = [1, 0, 0, 0, 0, 0, 0];
export const TIME: Dimension = [0, 0, 1, 0, 0, 0, 0];
export const FORCE: Dimension = [1, 1, -2, 0, 0, 0, 0];

export type StepsInYaml = readonly Record<string, Record<string, unknown>>[];

/** A small lab around a reduction: quantities with values, instruments with settings. */
export interface Bench {
  readonly quantities?: Record<string, { value: number; dimension: Dimension }>;
  readonly instruments?: Record<
    string,
    { kind: string; shape: SignalShape; settings: Record<string, SettingValue> }
  >;
  readonly columns?: Record<string, Dimension>;
  readonly steps: StepsInYaml;
  readonly across?: boolean;
}

export function kindNamed(name: string): InstrumentKind {
  const kind = instrumentKinds.get(name);
  if (kind === undefined) throw new Error(`no instrument ${name}`);
  return kind;
}

function settingsAt(step: number, values: Record<string, unknown>): GivenSettings {
  const place = (path: readonly (string | number)[]) => ({ step: ['step', step + 1, ...path].join('.') });
  return {
    values,
    placeOf: place,
    placeOfKey: place,
    originOf: (path) => ({ placeAt: (offset) => ({ ...place(path), column: offset + 1 }) }),
  };
}

export function prepare(bench: Bench): Outcome<PreparedReduction> {
  const quantities = bench.quantities ?? {};
  const rows: RowSet = { words: 'the table of runs', windows: [] };
  const context: ReductionContext = {
    quantities: Object.keys(quantities),
    dimensionOfQuantity: (name) => (Object.hasOwn(quantities, name) ? quantities[name].dimension : undefined),
    instruments: new Map(
      Object.entries(bench.instruments ?? {}).map(([name, { kind, shape, settings }]) => [
        name,
        {
          kind: kindNamed(kind),
          shape,
          settings: () => new Map(Object.entries(settings)),
          quantitiesRead: new Set<string>(),
        },
      ]),
    ),
    columns: new Map(
      Object.entries(bench.columns ?? {}).map(([name, dimension]) => [name, { dimension, rows }]),
    ),
    scalars: new Map(),
    unsure: new Set(),
  };
  const given: GivenStep[] = bench.steps.map((step, i) => {
    const [name, values] = Object.entries(step)[0];
    return { name, settings: settingsAt(i, values), place: { step: `step.${i + 1}` } };
  });
  return prepareReduction(given, bench.across ? acrossRunsSteps : eachRunSteps, context);
}

export function quantityVector(bench: Bench): Float64Array {
  return Float64Array.from(Object.values(bench.quantities ?? {}), (quantity) => quantity.value);
}

/** The sentences of an outcome that failed. */
export function sentencesOf(outcome: Outcome<unknown>): string[] {
  return outcome.ok ? [] : outcome.problems.map((found) => formatProblem(found));
}

export function prepared(bench: Bench): PreparedReduction {
  const outcome = prepare(bench);
  if (!outcome.ok) throw new Error(sentencesOf(outcome).join('\n'));
  return outcome.value;
}

/** A run of the prepared reduction on given raw columns. */
export function runOn(
  bench: Bench,
  readings: Record<
    string,
    Record<string, { values: readonly number[] | Float64Array; dimension: Dimension }>
  >,
  options: { keepsReports?: boolean; findsUncertainties?: boolean } = { keepsReports: true },
  reduction: PreparedReduction = prepared(bench),
): { state: RunState; outcome: Outcome<void> } {
  const state = beginRun('run 1', readingsOf(readings), options);
  return { state, outcome: reduction.run(state, quantityVector(bench)) };
}

export function readingsOf(
  readings: Record<
    string,
    Record<string, { values: readonly number[] | Float64Array; dimension: Dimension }>
  >,
): ReadonlyMap<string, Readings> {
  return new Map(
    Object.entries(readings).map(([instrument, columns]) => [
      instrument,
      {
        instrument,
        columns: Object.entries(columns).map(([name, { values, dimension }]) => ({
          name,
          values: Float64Array.from(values),
          dimension,
          u: 0,
        })),
        notes: [],
      },
    ]),
  );
}

export function scalar(state: RunState, name: string) {
  const found = state.scalars.get(name);
  if (found === undefined) throw new Error(`no scalar ${name}`);
  return found;
}
