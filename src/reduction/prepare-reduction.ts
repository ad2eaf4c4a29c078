import {
  fail,
  nearestName,
  type Outcome,
  type Place,
  type Problem,
  problem,
  succeed,
} from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type { RunState } from './state.ts';
import type { GivenSettings, PreparedStep, ReductionContext, ReductionStep, RowSet } from './step.ts';

/** One step as the lab file has it. */
export interface GivenStep {
  readonly name: string;
  readonly settings: GivenSettings;
  /** Where the step's name stands. */
  readonly place: Place;
}

/** Steps made ready, and what they leave behind. */
export interface PreparedReduction {
  readonly steps: readonly PreparedStep[];
  readonly columns: ReadonlyMap<string, { readonly dimension: Dimension; readonly rows: RowSet }>;
  /** All values that the steps give. */
  readonly scalars: ReadonlyMap<string, Dimension>;
  readonly quantitiesRead: ReadonlySet<string>;
  readonly readsUncertainties: boolean;
  /** Runs all steps; stops at the first that fails. */
  run(state: RunState, quantities: Float64Array): Outcome<void>;
}

/**
 * Checks the steps of a reduction in their order and makes them ready to run many times.
 *
 * All problems of all steps are told; a step that rests on one with a problem adds none of its own.
 *
 * @param registry `eachRunSteps` or `acrossRunsSteps`
 * @param start    what is known before the first step
 */
export function prepareReduction(
  given: readonly GivenStep[],
  registry: ReadonlyMap<string, ReductionStep>,
  start: ReductionContext,
): Outcome<PreparedReduction> {
  const problems: Problem[] = [];
  const steps: PreparedStep[] = [];
  const places: Place[] = [];
  let context = start;
  for (const { name, settings, place } of given) {
    const step = registry.get(name);
    if (step === undefined) {
      problems.push(unknownStep(name, registry, place));
      context = withUnsure(context, namesIn(settings.values));
      continue;
    }
    const prepared = step.prepare(settings, context);
    if (prepared.ok) {
      steps.push(prepared.value);
      places.push(place);
      context = withGiven(context, prepared.value);
    } else {
      problems.push(...prepared.problems);
      context = withUnsure(context, namesGivenBy(step, settings));
    }
  }
  if (problems.length > 0) return fail(...problems);
  return succeed({
    steps,
    columns: context.columns,
    scalars: context.scalars,
    quantitiesRead: new Set(steps.flatMap((step) => [...step.quantitiesRead])),
    readsUncertainties: steps.some((step) => step.readsUncertainties),
    run(state, quantities) {
      for (const [index, step] of steps.entries()) {
        const done = step.run(state, quantities);
        // The step says which run; where it stands in the lab file is known here.
        if (!done.ok)
          return fail(
            ...done.problems.map((found) => ({ ...found, place: { ...places[index], ...found.place } })),
          );
      }
      return succeed(undefined);
    },
  });
}

function unknownStep(name: string, registry: ReadonlyMap<string, ReductionStep>, place: Place): Problem {
  const near = nearestName(name, registry.keys());
  return problem(
    'unknown-step',
    place,
    `"${name}" is not a step here.`,
    near === undefined ? `The steps are ${[...registry.keys()].join(', ')}.` : `Did you mean "${near}"?`,
  );
}

function withGiven(context: ReductionContext, step: PreparedStep): ReductionContext {
  const { gives } = step;
  const columns = new Map(context.columns);
  if (gives.replacesRows !== undefined) {
    const { before, after } = gives.replacesRows;
    for (const [name, column] of columns) {
      if (column.rows === before) columns.set(name, { ...column, rows: after });
    }
  }
  for (const { name, dimension, rows } of gives.columns) columns.set(name, { dimension, rows });
  const scalars = new Map(context.scalars);
  for (const { name, dimension } of gives.scalars) scalars.set(name, dimension);
  return { ...context, columns, scalars };
}

function withUnsure(context: ReductionContext, names: Iterable<string>): ReductionContext {
  return { ...context, unsure: new Set([...context.unsure, ...names]) };
}

/** The names that a step would have given. */
function namesGivenBy(step: ReductionStep, settings: GivenSettings): string[] {
  return step.settings
    .filter((spec) => spec.kind === 'new names' || spec.kind === 'renaming' || spec.kind === 'start values')
    .flatMap((spec) => namesIn({ [spec.name]: settings.values[spec.name] }));
}

/** All words in settings that could be names. */
function namesIn(values: unknown): string[] {
  if (typeof values === 'string') return [values];
  if (Array.isArray(values)) return values.flatMap(namesIn);
  if (typeof values === 'object' && values !== null) {
    return Object.entries(values).flatMap(([key, value]) => [key, ...namesIn(value)]);
  }
  return [];
}
