import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type {
  GivenSettings,
  InstrumentAtHand,
  PreparedStep,
  ReductionContext,
  ReductionStep,
  StepGives,
} from '../reduction/index.ts';
import { acrossRunsSteps, eachRunSteps } from '../reduction/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { LabInstrument } from './instrument-section.ts';
import { quantityNames } from './quantity-function.ts';
import type { Quantities } from './quantity-section.ts';
import type { GivenScalars } from './result-section.ts';
import type { Tables } from './table-section.ts';
import type { ValidityCondition } from './validity.ts';
import { prepareValidityStep } from './validity.ts';

/** The steps from readings to results, made ready, and the scalars that they give. */
export interface Reduction {
  readonly eachRun: readonly PreparedStep[];
  readonly acrossRuns: readonly PreparedStep[];
  readonly given: GivenScalars;
}

type Forms = NonNullable<LabForm['reduction']>;

/** What is known between one step and the next. */
interface Known {
  readonly columns: Map<
    string,
    { readonly dimension: Dimension; readonly rows: StepGives['columns'][number]['rows'] }
  >;
  readonly scalars: Map<string, Dimension>;
  readonly unsure: Set<string>;
}

export interface ReductionSurroundings {
  readonly document: LabDocument;
  readonly quantities: Quantities;
  readonly tables: Tables;
  readonly instruments: readonly LabInstrument[];
  /** Conditions under which the model is true; rows from the first failure on are set aside. */
  readonly validity: readonly ValidityCondition[];
}

/** Makes the steps of the reduction ready, one after another: each knows what those before it gave. */
export function readReduction(form: Forms, around: ReductionSurroundings): Outcome<Reduction> {
  const each = prepareEachRun(form['each run'] ?? [], around);
  const run = each.known.scalars;
  const rows = { words: 'the table of runs', windows: [] };
  const across: Known = {
    columns: new Map([...run].map(([name, dimension]) => [name, { dimension, rows }])),
    scalars: new Map(),
    unsure: new Set(each.known.unsure),
  };
  // Settings may differ from run to run, so that a base quantity is a column of the table of runs.
  for (const { name, dimension } of around.quantities.base) {
    if (!across.columns.has(name)) across.columns.set(name, { dimension, rows });
  }
  const problems = [...each.problems];
  const warnings = [...each.warnings];
  const acrossRuns: PreparedStep[] = [];
  for (const [index, step] of (form['across runs'] ?? []).entries()) {
    const path: Path = ['reduction', 'across runs', index];
    const prepared = prepareStep(step, path, acrossRunsSteps, across, { ...around, instruments: [] });
    if (prepared.ok) acrossRuns.push(prepared.value);
    else problems.push(...prepared.problems);
    if (prepared.ok) warnings.push(...prepared.warnings);
  }
  if (problems.length > 0) return fail(...problems);
  return succeed({ eachRun: each.steps, acrossRuns, given: { run, across: across.scalars } }, warnings);
}

function prepareEachRun(forms: NonNullable<Forms['each run']>, around: ReductionSurroundings) {
  const known: Known = { columns: new Map(), scalars: new Map(), unsure: new Set() };
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const steps: PreparedStep[] = [];
  const waiting = new Set(around.validity);
  for (const [index, form] of forms.entries()) {
    const [name] = Object.keys(form);
    if (name !== undefined && usesRows(name)) {
      for (const condition of waiting) {
        const step = prepareValidityStep(condition, contextOf(known, around));
        if (step === null) continue;
        waiting.delete(condition);
        if (!step.ok) {
          problems.push(...step.problems);
          continue;
        }
        remember(step.value.gives, known);
        steps.push(step.value);
      }
    }
    const prepared = prepareStep(form, ['reduction', 'each run', index], eachRunSteps, known, around);
    if (!prepared.ok) {
      problems.push(...prepared.problems);
      continue;
    }
    warnings.push(...prepared.warnings);
    steps.push(prepared.value);
  }
  return { steps, known, problems, warnings };
}

/** Steps that turn readings into columns come before the model's validity is asked; all others use rows that must be valid. */
function usesRows(step: string): boolean {
  return (
    !['readings', 'column', 'zero', 'smooth', 'derivative'].includes(step) && !step.startsWith('motion from')
  );
}

function prepareStep(
  form: Readonly<Record<string, Readonly<Record<string, unknown>>>>,
  path: Path,
  registry: ReadonlyMap<string, ReductionStep>,
  known: Known,
  around: ReductionSurroundings,
): Outcome<PreparedStep> {
  const { document } = around;
  const entries = Object.entries(form);
  const [entry] = entries;
  if (entry === undefined || entries.length > 1) {
    return fail(
      problem(
        'step-form',
        document.placeOf(path),
        `A step is one name with its settings; ${entries.length === 0 ? 'none' : entries.map(([key]) => `"${key}"`).join(' and ')} stands here.`,
      ),
    );
  }
  const [name, values] = entry;
  const step = registry.get(name);
  if (step === undefined) {
    rememberUnsure(values, known);
    const near = nearestName(name, registry.keys());
    return fail(
      problem(
        'unknown-step',
        document.placeOfKey([...path, name]),
        `"${name}" is not a step of the reduction.`,
        near === undefined ? `The steps are ${[...registry.keys()].join(', ')}.` : `Did you mean "${near}"?`,
      ),
    );
  }
  const prepared = step.prepare(givenSettings(values, [...path, name], document), contextOf(known, around));
  if (prepared.ok) remember(prepared.value.gives, known);
  else rememberUnsure(values, known);
  return prepared;
}

function givenSettings(
  values: Readonly<Record<string, unknown>>,
  path: Path,
  document: LabDocument,
): GivenSettings {
  return {
    values,
    placeOf: (inner): Place => document.placeOf([...path, ...inner]),
    placeOfKey: (inner): Place => document.placeOfKey([...path, ...inner]),
    originOf: (inner) => document.originOf([...path, ...inner]),
  };
}

function contextOf(known: Known, around: ReductionSurroundings): ReductionContext {
  return {
    quantities: quantityNames(around.quantities),
    dimensionOfQuantity: (name) => around.quantities.byName.get(name)?.dimension,
    tables: around.tables,
    instruments: new Map(
      around.instruments.map((instrument): [string, InstrumentAtHand] => [instrument.name, instrument]),
    ),
    columns: known.columns,
    scalars: known.scalars,
    unsure: known.unsure,
  };
}

function remember(gives: StepGives, known: Known): void {
  const { replacesRows } = gives;
  if (replacesRows !== undefined) {
    for (const [name, column] of known.columns) {
      if (column.rows === replacesRows.before)
        known.columns.set(name, { ...column, rows: replacesRows.after });
    }
  }
  for (const { name, dimension, rows } of gives.columns) known.columns.set(name, { dimension, rows });
  for (const { name, dimension } of gives.scalars) known.scalars.set(name, dimension);
}

/** Every text in the settings of a step that failed may be a name it would have given. */
function rememberUnsure(values: Readonly<Record<string, unknown>>, known: Known): void {
  for (const value of Object.values(values)) {
    if (typeof value === 'string') known.unsure.add(value);
    else if (Array.isArray(value))
      for (const name of value) if (typeof name === 'string') known.unsure.add(name);
  }
}
