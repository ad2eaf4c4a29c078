import type { Expression, Scope } from '../expression/index.ts';
import { checkDimensions, ExpressionTooLarge, substitute } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { unknownDimension } from '../quantity/index.ts';
import { type CheckedForm, checkForm } from './check-form.ts';
import { readCorrelations } from './correlation-section.ts';
import { readDerivation } from './derivation-section.ts';
import { type LabDocument, readDocument } from './document.ts';
import { readEffects } from './effect-section.ts';
import { findCrowds } from './find-crowds.ts';
import { findVaried } from './find-varied.ts';
import { findInfiniteQuantities } from './finite-quantities.ts';
import type { LabForm } from './form.ts';
import { readInfer } from './infer-section.ts';
import { findIdleEffects, influentialQuantities } from './influence.ts';
import { type InstrumentDraft, readInstrumentDrafts } from './instrument-draft.ts';
import { type LabInstrument, readInstrument } from './instrument-section.ts';
import type { Lab } from './lab.ts';
import { type LabModel, readModel } from './model-section.ts';
import { type ModelSymbols, scopeWith, symbolsByName, symbolsOf } from './model-symbols.ts';
import { readPlan } from './plan-section.ts';
import { compileDerived } from './quantity-function.ts';
import { readQuantities, scopeOf } from './quantity-section.ts';
import { readReduction } from './reduction-section.ts';
import { resolveHelpers } from './resolve-helpers.ts';
import { readResults } from './result-section.ts';
import type { Surroundings } from './surroundings.ts';
import { readTables } from './table-section.ts';
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
  const checked = checkForm(document.value);
  const { form } = checked;
  if (form === null) return fail(...checked.problems);
  try {
    const lab = buildLab({ ...checked, form }, document.value, document.warnings);
    return lab.ok ? lab : fail(...[...lab.problems].sort(byPlace));
  } catch (error) {
    if (!(error instanceof ExpressionTooLarge)) throw error;
    return fail(
      ...checked.problems,
      problem(
        'expression-too-large',
        { file },
        'The expressions of this lab grow too large when they are put into one another.',
        'Shorten chains of definitions.',
      ),
    );
  }
}

/** In the order in which they stand in the file. */
function byPlace({ place: a }: Problem, { place: b }: Problem): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}

/**
 * Reads the sections one after another, each with what those before it gave. One that has a problem does not keep the
 * others from being read: what would rest on it counts as unknown, and nothing is said of that a second time.
 */
function buildLab(
  { form, damaged, problems: misfits }: CheckedForm & { readonly form: LabForm },
  document: LabDocument,
  told: readonly Problem[],
): Outcome<Lab> {
  const crowds = findCrowds(form, document);
  if (crowds.length > 0) return fail(...misfits, ...crowds);
  const problems: Problem[] = [...misfits];
  const warnings: Problem[] = [...told];
  const collect = <T>(outcome: Outcome<T>): T | undefined => {
    if (outcome.ok) {
      warnings.push(...outcome.warnings);
      return outcome.value;
    }
    problems.push(...outcome.problems);
    return undefined;
  };
  const read = <T>(part: { readonly problems: readonly Problem[] } & T): T => {
    problems.push(...part.problems);
    return part;
  };
  const isSound = (...sections: readonly string[]) => sections.every((section) => !damaged.has(section));
  const tables = isSound('tables') ? collect(readTables(form.tables ?? {}, document)) : undefined;
  const { quantities } = read(readQuantities(form.quantities, damaged, document, tables));
  // Everything else is written in terms of the quantities: without them no further message would be true.
  if (!isSound('quantities') || tables === undefined) return fail(...problems);
  const around = { document, quantities, tables, scope: scopeOf(quantities, tables) };
  const effects = collect(readEffects(form.effects ?? {}, quantities, document));
  const correlations = collect(readCorrelations(form.correlations ?? [], quantities, document));
  const plan = collect(readPlan(form.plan, quantities, document));
  const drafts = isSound('instruments')
    ? collect(readInstrumentDrafts(form.instruments ?? {}, document))
    : undefined;
  const model = isSound('where', 'model') ? collect(readModel(form, drafts ?? [], around)) : undefined;
  const symbols = model === undefined ? symbolsByName(form, around.scope) : symbolsOf(model);
  const derivation = collect(readDerivation(form, symbols, around));
  const instruments =
    drafts === undefined
      ? undefined
      : read(readInstruments(drafts, form, model ?? null, symbols, around)).instruments;
  const trials =
    instruments === undefined
      ? undefined
      : collect(readTrials(form.trials ?? [], instruments, quantities, document));
  const varied = findVaried(form, quantities);
  const validity = model === undefined ? [] : validityOf(model, around);
  const reduction =
    instruments === undefined || !isSound('reduction')
      ? undefined
      : collect(
          readReduction(form.reduction ?? {}, {
            document,
            quantities,
            tables,
            instruments,
            varied,
            validity,
          }),
        );
  const results = collect(readResults(form.results ?? {}, reduction ?? null, around));
  const infer =
    reduction === undefined
      ? undefined
      : collect(readInfer(form, effects ?? [], quantities, reduction, document));
  // A part that could not be read has left a problem; the types do not know that.
  if (
    problems.length > 0 ||
    effects === undefined ||
    correlations === undefined ||
    plan === undefined ||
    model === undefined ||
    derivation === undefined ||
    instruments === undefined ||
    trials === undefined ||
    reduction === undefined ||
    results === undefined ||
    infer === undefined
  ) {
    return fail(...problems);
  }
  const influential = influentialQuantities(model, instruments, reduction, quantities);
  const lab: Lab = {
    file: document.file,
    title: form.title,
    question: form.question ?? '',
    quantities,
    correlations,
    tables,
    derive: compileDerived(quantities, tables),
    effects,
    influential,
    varied,
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
  };
  const idle = findIdleEffects(effects, influential, model);
  const infinite = findInfiniteQuantities(lab);
  problems.push(...idle.problems, ...infinite);
  return problems.length > 0 ? fail(...problems) : succeed(lab, [...warnings, ...idle.warnings]);
}

/** The instruments; one whose settings have a problem stands without them, so that what reads it can be checked. */
function readInstruments(
  drafts: readonly InstrumentDraft[],
  form: LabForm,
  model: LabModel | null,
  symbols: ModelSymbols | null,
  around: Surroundings,
): { readonly instruments: readonly LabInstrument[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const instruments: LabInstrument[] = [];
  let index = 0;
  for (const draft of drafts) {
    const signals = draft.signals.map((signal) => ({ key: signal.key, index: index++ }));
    const own = form.instruments?.[draft.name];
    if (own === undefined) continue;
    const main = signals.find((signal) => signal.key === 'of');
    const expression = draft.signals.find((signal) => signal.key === 'of')?.expression;
    const dimension =
      main === undefined || expression === undefined
        ? timeDimension
        : model === null
          ? dimensionByName(expression, symbols, around.scope)
          : dimensionOfSignal(model, main.index);
    const against = controlOf(model, form);
    const shape = against === null ? { dimension } : { dimension, against };
    const read = readInstrument(draft, own, shape, signals, around);
    if (!read.ok) problems.push(...read.problems);
    instruments.push(
      read.ok
        ? read.value
        : {
            name: draft.name,
            kind: draft.kind,
            shape,
            signals,
            settings: () => new Map(),
            quantitiesRead: new Set(),
            place: around.document.placeOfKey(['instruments', draft.name]),
          },
    );
  }
  return { instruments, problems };
}

/** What the readings of a relation stand against; null for a motion. */
function controlOf(model: LabModel | null, form: LabForm): LabInstrument['shape']['against'] | null {
  if (model?.kind === 'relation') {
    return { name: model.relation.control, dimension: model.relation.controlDimension };
  }
  const [control] = Object.keys(form.model?.over ?? {});
  return model === null && form.model?.relation !== undefined && control !== undefined
    ? { name: control, dimension: unknownDimension }
    : null;
}

/** Dimension of what an instrument looks at; unknown where there is no model. */
function dimensionOfSignal(model: LabModel, index: number): Dimension {
  if (model.kind === 'motion') {
    const name = model.model.signalNames[index];
    return name === undefined ? unknownDimension : model.model.dimensionOfSignal(name);
  }
  return (
    (model.kind === 'relation' ? model.relation.signals[index]?.dimension : undefined) ?? unknownDimension
  );
}

/** The same where the model is not sound; unknown where that is all that can be said. */
function dimensionByName(expression: Expression, symbols: ModelSymbols | null, scope: Scope): Dimension {
  const checked = symbols === null ? null : checkDimensions(expression, scopeWith(symbols, scope));
  return checked?.ok ? checked.value : unknownDimension;
}

function validityOf(model: LabModel, { document, scope }: Surroundings): readonly ValidityCondition[] {
  if (model.kind !== 'motion') return [];
  const symbols = symbolsOf(model);
  const { trees } = resolveHelpers(symbols.helpers, scopeWith(symbols, scope));
  return model.holdsWhile.map(({ name, condition }) => ({
    name,
    condition: {
      ...condition,
      tree: substitute(condition.tree, trees),
      origin: document.originOf(['model', 'holds while', name]),
    },
  }));
}
