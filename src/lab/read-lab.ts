import type { Tree } from '../expression/index.ts';
import { ExpressionTooLarge, namesIn, substitute } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { checkForm } from './check-form.ts';
import { readCorrelations } from './correlation-section.ts';
import { readDerivation } from './derivation-section.ts';
import { type LabDocument, readDocument } from './document.ts';
import { readEffects } from './effect-section.ts';
import type { LabForm } from './form.ts';
import { readInfer } from './infer-section.ts';
import { type InstrumentDraft, readInstrumentDrafts } from './instrument-draft.ts';
import { type LabInstrument, readInstrument } from './instrument-section.ts';
import type { Lab } from './lab.ts';
import { type LabModel, readModel } from './model-section.ts';
import { readPlan } from './plan-section.ts';
import { compileDerived } from './quantity-function.ts';
import { readQuantities, scopeOf } from './quantity-section.ts';
import { readReduction } from './reduction-section.ts';
import { readResults } from './result-section.ts';
import type { Surroundings } from './surroundings.ts';
import { readTables, type Tables } from './table-section.ts';
import { timeDimension } from './time-dimension.ts';
import { readTrials } from './trial-section.ts';
import type { ValidityCondition } from './validity.ts';

/**
 * Reads a lab file and checks all of it: form, symbols, dimensions, model, instruments, reduction, results, trials.
 *
 * @param text the text of lab.yaml
 * @param file its name, for messages
 * @returns the lab with warnings, or every problem found, each at its place
 */
export function readLab(text: string, file: string): Outcome<Lab> {
  const document = readDocument(text, file);
  if (!document.ok) return document;
  const form = checkForm(document.value);
  if (!form.ok) return form;
  try {
    return buildLab(form.value, document.value);
  } catch (error) {
    if (!(error instanceof ExpressionTooLarge)) throw error;
    return fail(
      problem(
        'expression-too-large',
        { file },
        'The expressions of this lab grow too large when they are put into one another.',
        'Shorten chains of definitions.',
      ),
    );
  }
}

function buildLab(form: LabForm, document: LabDocument): Outcome<Lab> {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const collect = <T>(outcome: Outcome<T>): T | undefined => {
    if (outcome.ok) {
      warnings.push(...outcome.warnings);
      return outcome.value;
    }
    problems.push(...outcome.problems);
    return undefined;
  };
  const tables: Tables = collect(readTables(form.tables ?? {}, document)) ?? new Map();
  const quantities = collect(readQuantities(form.quantities, document, tables));
  const drafts = collect(readInstrumentDrafts(form.instruments ?? {}, document)) ?? [];
  // Everything else is written in terms of the quantities: without them no further message would be true.
  if (quantities === undefined) return fail(...problems);
  const scope = scopeOf(quantities, tables);
  const around = { document, quantities, tables, scope };
  const effects = collect(readEffects(form.effects ?? {}, quantities, document)) ?? [];
  const correlations = collect(readCorrelations(form.correlations ?? [], quantities, document)) ?? [];
  const plan = collect(readPlan(form.plan, quantities, document)) ?? { settings: [[]], repeats: 1 };
  const model = collect(readModel(form, drafts, around));
  if (model === undefined) return fail(...problems);
  const instruments = collect(readInstruments(drafts, form, model, around)) ?? [];
  const validity = validityOf(model, document);
  const reduction =
    instruments.length < drafts.length
      ? undefined
      : collect(readReduction(form.reduction ?? {}, { document, quantities, tables, instruments, validity }));
  const derivation = collect(readDerivation(form, model, around)) ?? [];
  const trials = collect(readTrials(form.trials ?? [], instruments, quantities, document)) ?? [];
  if (reduction === undefined) return fail(...problems);
  const results = collect(readResults(form.results ?? {}, reduction, around)) ?? [];
  const infer = collect(readInfer(form, effects, quantities, reduction, document)) ?? { free: [], using: [] };
  if (problems.length > 0) return fail(...problems);
  return succeed(
    {
      file: document.file,
      title: form.title,
      question: form.question ?? '',
      quantities,
      correlations,
      tables,
      derive: compileDerived(quantities, tables),
      effects,
      model,
      instruments,
      eachRun: reduction.eachRun,
      acrossRuns: reduction.acrossRuns,
      results,
      derivation,
      plan,
      infer,
      trials,
      cautions: form.cautions ?? [],
    },
    warnings,
  );
}

function readInstruments(
  drafts: readonly InstrumentDraft[],
  form: LabForm,
  model: LabModel,
  around: Surroundings,
): Outcome<readonly LabInstrument[]> {
  const problems: Problem[] = [];
  const instruments: LabInstrument[] = [];
  let index = 0;
  for (const draft of drafts) {
    const signals = draft.signals.map((signal) => ({ key: signal.key, index: index++ }));
    const own = form.instruments?.[draft.name];
    if (own === undefined) continue;
    const main = signals.find((signal) => signal.key === 'of');
    const dimension = main === undefined ? timeDimension : dimensionOfSignal(model, main.index);
    const shape =
      model.kind === 'relation'
        ? { dimension, against: { name: model.relation.control, dimension: model.relation.controlDimension } }
        : { dimension };
    const read = readInstrument(draft, own, shape, signals, around);
    if (read.ok) instruments.push(read.value);
    else problems.push(...read.problems);
  }
  return problems.length > 0 ? fail(...problems) : succeed(instruments);
}

function dimensionOfSignal(model: LabModel, index: number): Dimension {
  if (model.kind === 'motion') {
    const name = model.model.signalNames[index];
    return name === undefined ? timeDimension : model.model.dimensionOfSignal(name);
  }
  return (model.kind === 'relation' ? model.relation.signals[index]?.dimension : undefined) ?? timeDimension;
}

function validityOf(model: LabModel, document: LabDocument): readonly ValidityCondition[] {
  if (model.kind !== 'motion') return [];
  const helperTrees = new Map<string, Tree>([...model.helpers].map(([name, { tree }]) => [name, tree]));
  return model.holdsWhile.map(({ name, condition }) => {
    let { tree } = condition;
    // Helpers may use helpers; the model has already refused circles.
    while ([...namesIn(tree)].some((symbol) => helperTrees.has(symbol))) tree = substitute(tree, helperTrees);
    return {
      name,
      condition: { ...condition, tree, origin: document.originOf(['model', 'holds while', name]) },
    };
  });
}
