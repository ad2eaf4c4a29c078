import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { GivenStep, PreparedReduction, ReductionContext } from '../reduction/index.ts';
import { acrossRunsSteps, eachRunSteps, prepareReduction } from '../reduction/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { LabForm } from './form.ts';
import type { LabInstrument } from './instrument-section.ts';
import { quantityNames } from './quantity-function.ts';
import type { Quantities, Quantity } from './quantity-section.ts';
import type { Tables } from './table-section.ts';
import { type ValidityCondition, validityStep } from './validity.ts';

/** The steps from readings to results, made ready. */
export interface Reduction {
  readonly eachRun: PreparedReduction;
  readonly acrossRuns: PreparedReduction;
}

/** The numbers that the steps give, all that results need to know of them. */
export interface ReductionScalars {
  readonly eachRun: Pick<PreparedReduction, 'scalars'>;
  readonly acrossRuns: Pick<PreparedReduction, 'scalars'>;
}

export interface ReductionSurroundings {
  readonly document: LabDocument;
  readonly quantities: Quantities;
  readonly tables: Tables;
  readonly instruments: readonly LabInstrument[];
  /** Quantities that may differ from run to run. */
  readonly varied: readonly Quantity[];
  /** Conditions under which the model is true; rows from the first failure on are set aside. */
  readonly validity: readonly ValidityCondition[];
}

type StepForms = NonNullable<NonNullable<LabForm['reduction']>['each run']>;

/** Makes the steps of the reduction ready: those of each run, then those on the table of runs that they leave. */
export function readReduction(
  form: NonNullable<LabForm['reduction']>,
  around: ReductionSurroundings,
): Outcome<Reduction> {
  const { document } = around;
  const each = readSteps(form['each run'] ?? [], ['reduction', 'each run'], document);
  const across = readSteps(form['across runs'] ?? [], ['reduction', 'across runs'], document);
  const misformed = [...(each.ok ? [] : each.problems), ...(across.ok ? [] : across.problems)];
  if (!each.ok || !across.ok) return fail(...misformed);
  const context = contextOf(around);
  const eachRun = prepareReduction(withValidity(each.value, context, around.validity), eachRunSteps, context);
  if (!eachRun.ok) return eachRun;
  const acrossRuns = prepareReduction(across.value, acrossRunsSteps, tableContext(eachRun.value, around));
  if (!acrossRuns.ok) return acrossRuns;
  return succeed({ eachRun: eachRun.value, acrossRuns: acrossRuns.value }, [
    ...eachRun.warnings,
    ...acrossRuns.warnings,
  ]);
}

/** Steps as they are given, each a name with its settings. */
export function readSteps(
  forms: StepForms,
  section: Path,
  document: LabDocument,
): Outcome<readonly GivenStep[]> {
  const problems: Problem[] = [];
  const steps: GivenStep[] = [];
  for (const [index, form] of forms.entries()) {
    const path: Path = [...section, index];
    const [entry, ...more] = Object.entries(form);
    if (entry === undefined || more.length > 0) {
      const found =
        entry === undefined ? 'none' : [entry, ...more].map(([name]) => `"${name}"`).join(' and ');
      problems.push(
        problem(
          'step-form',
          document.placeOf(path),
          `A step is one name with its settings; ${found} stands here.`,
        ),
      );
      continue;
    }
    const [name, values] = entry;
    const own = [...path, name];
    steps.push({
      name,
      place: document.placeOfKey(own),
      settings: {
        values,
        placeOf: (inner) => document.placeOf([...own, ...inner]),
        placeOfKey: (inner) => document.placeOfKey([...own, ...inner]),
        originOf: (inner) => document.originOf([...own, ...inner]),
      },
    });
  }
  return problems.length > 0 ? fail(...problems) : succeed(steps);
}

function contextOf(around: ReductionSurroundings): ReductionContext {
  return {
    quantities: quantityNames(around.quantities),
    dimensionOfQuantity: (name) => around.quantities.byName.get(name)?.dimension,
    tables: around.tables,
    instruments: new Map(around.instruments.map((instrument) => [instrument.name, instrument])),
    columns: new Map(),
    scalars: new Map(),
    unsure: new Set(),
  };
}

/** Across runs the scalars of each run are columns, and so is every quantity that may differ from run to run. */
function tableContext(eachRun: PreparedReduction, around: ReductionSurroundings): ReductionContext {
  const rows = { words: 'the table of runs', windows: [] };
  const varied = around.varied.map(({ name, dimension }) => [name, { dimension, rows }] as const);
  const ofRuns = [...eachRun.scalars].map(([name, dimension]) => [name, { dimension, rows }] as const);
  const isColumn = new Set([...varied, ...ofRuns].map(([name]) => name));
  return {
    ...contextOf(around),
    dimensionOfQuantity: (name) =>
      isColumn.has(name) ? undefined : around.quantities.byName.get(name)?.dimension,
    instruments: new Map(),
    columns: new Map([...varied, ...ofRuns]),
  };
}

/** Puts the steps that set invalid rows aside before the first step that uses rows for more than making columns. */
function withValidity(
  steps: readonly GivenStep[],
  context: ReductionContext,
  validity: readonly ValidityCondition[],
): readonly GivenStep[] {
  const first = steps.findIndex(({ name }) => usesRows(name));
  if (first < 0 || validity.length === 0) return steps;
  const before = prepareReduction(steps.slice(0, first), eachRunSteps, context);
  // Its problems are told when the whole reduction is made ready.
  if (!before.ok) return steps;
  const inserted = validity.flatMap(
    (condition) => validityStep(condition, before.value.columns, context.quantities) ?? [],
  );
  return [...steps.slice(0, first), ...inserted, ...steps.slice(first)];
}

function usesRows(step: string): boolean {
  return (
    !['readings', 'column', 'zero', 'smooth', 'derivative'].includes(step) && !step.startsWith('motion from')
  );
}
