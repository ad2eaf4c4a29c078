import type { Scope, Tree } from '../expression/index.ts';
import {
  checkEquation,
  ExpressionTooLarge,
  namesIn,
  parseEquation,
  substitute,
} from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { parseMagnitude } from '../quantity/index.ts';
import { checkForm } from './check-form.ts';
import { type LabDocument, type Path, readDocument } from './document.ts';
import { type Effect, readEffects } from './effect-section.ts';
import type { LabForm } from './form.ts';
import { type InstrumentDraft, readInstrumentDrafts } from './instrument-draft.ts';
import { type LabInstrument, readInstrument } from './instrument-section.ts';
import type { Correlation, DerivationLine, InferPlan, Lab } from './lab.ts';
import { type LabModel, readModel } from './model-section.ts';
import { readPlan } from './plan-section.ts';
import { compileDerived } from './quantity-function.ts';
import { type Quantities, readQuantities, scopeOf, unknownQuantity } from './quantity-section.ts';
import { type Reduction, readReduction } from './reduction-section.ts';
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

function readCorrelations(
  forms: NonNullable<LabForm['correlations']>,
  quantities: Quantities,
  document: LabDocument,
): Outcome<readonly Correlation[]> {
  const problems: Problem[] = [];
  const correlations: Correlation[] = [];
  forms.forEach(({ between, is }, index) => {
    const indices = between.map((name, position) => {
      const quantity = quantities.byName.get(name);
      const place = document.placeOf(['correlations', index, 'between', position]);
      if (quantity === undefined) problems.push(unknownQuantity(name, quantities, place));
      else if (quantity.kind === 'derived') {
        problems.push(
          problem(
            'computed-quantity',
            place,
            `${name} is computed; a correlation stands between given quantities.`,
          ),
        );
      }
      return quantity?.index ?? 0;
    });
    const [first, second] = indices;
    if (first === undefined || second === undefined) return;
    if (first === second) {
      problems.push(
        problem(
          'correlation-with-itself',
          document.placeOf(['correlations', index]),
          `${between[0]} cannot be correlated with itself.`,
        ),
      );
    }
    correlations.push({ between: [first, second], is });
  });
  return problems.length > 0 ? fail(...problems) : succeed(correlations);
}

function readDerivation(
  form: LabForm,
  model: LabModel,
  around: Surroundings,
): Outcome<readonly DerivationLine[]> {
  const { document, scope } = around;
  const problems: Problem[] = [];
  const lines: DerivationLine[] = [];
  const states = new Map<string, Dimension>(
    model.kind === 'motion'
      ? model.model.stateNames.map((name) => [name, model.model.dimensionOfState(name)])
      : [],
  );
  const ofRelation = new Map<string, Dimension>(
    model.kind === 'relation'
      ? [
          [model.relation.control, model.relation.controlDimension],
          [model.relation.output, model.relation.outputDimension],
        ]
      : [],
  );
  const helpers = model.kind === 'motion' ? model.helpers : new Map();
  const along: Scope = {
    ...scope,
    dimensionOf: (name) =>
      name === 't' && model.kind === 'motion'
        ? timeDimension
        : (states.get(name) ?? ofRelation.get(name) ?? scope.dimensionOf(name)),
    names: () => [...scope.names(), ...states.keys(), ...ofRelation.keys(), 't'],
    primes: new Set(states.keys()),
  };
  const helperTrees = new Map<string, Tree>([...helpers].map(([name, { tree }]) => [name, tree]));
  for (const [index, line] of (form.derivation ?? []).entries()) {
    const path: Path = ['derivation', index];
    const parsed = parseEquation(line.line, document.originOf([...path, 'line']));
    if (!parsed.ok) {
      problems.push(...parsed.problems);
      continue;
    }
    const equation = {
      left: { ...parsed.value.left, tree: inlineAll(parsed.value.left.tree, helperTrees) },
      right: { ...parsed.value.right, tree: inlineAll(parsed.value.right.tree, helperTrees) },
    };
    const checked = checkEquation(equation, along);
    if (!checked.ok) problems.push(...checked.problems);
    const within =
      line.within === undefined ? succeed(0) : readShare(line.within, [...path, 'within'], document);
    if (!within.ok) problems.push(...within.problems);
    if (checked.ok && within.ok)
      lines.push({ text: line.line, because: line.because ?? '', equation, within: within.value });
  }
  return problems.length > 0 ? fail(...problems) : succeed(lines);
}

function inlineAll(tree: Tree, helpers: ReadonlyMap<string, Tree>): Tree {
  let inlined = tree;
  while ([...namesIn(inlined)].some((symbol) => helpers.has(symbol))) inlined = substitute(inlined, helpers);
  return inlined;
}

function readShare(written: string | number, path: Path, document: LabDocument): Outcome<number> {
  const share = parseMagnitude(String(written), 'interval', document.originOf(path));
  if (!share.ok) return share;
  const { value, unit } = share.value;
  if (unit.dimension.every((exponent) => exponent === 0) && value > 0 && value < 1) return succeed(value);
  return fail(
    problem(
      'out-of-range',
      document.placeOf(path),
      `"within" is ${String(written)}; it must be a share between 0 and 1, such as 1 %.`,
    ),
  );
}

/** Free quantities default to those that the effects are about; they are fitted to the results. */
function readInfer(
  form: LabForm,
  effects: readonly Effect[],
  quantities: Quantities,
  reduction: Reduction,
  document: LabDocument,
): Outcome<InferPlan> {
  const problems: Problem[] = [];
  const free = form.infer?.free ?? [
    ...new Set(
      effects.flatMap((effect) =>
        effect.off
          .filter(({ quantity }) => quantity.estimate.standardUncertainty > 0)
          .map(({ quantity }) => quantity.name),
      ),
    ),
  ];
  for (const [index, name] of (form.infer?.free ?? []).entries()) {
    const place = document.placeOf(['infer', 'free', index]);
    const quantity = quantities.byName.get(name);
    if (quantity === undefined) problems.push(unknownQuantity(name, quantities, place));
    else if (quantity.kind === 'derived') {
      problems.push(
        problem(
          'computed-quantity',
          place,
          `${name} is computed and cannot be free; free one of the quantities it is computed from.`,
        ),
      );
    } else if (quantity.estimate.standardUncertainty === 0) {
      problems.push(
        problem(
          'exact-quantity',
          place,
          `${name} states no uncertainty, so nothing says how far the trials may move it.`,
          'Give it "u" or "within".',
        ),
      );
    }
  }
  const known = reduction.eachRun.scalars;
  const using = form.infer?.using ?? Object.keys(form.results ?? {}).filter((name) => known.has(name));
  for (const [index, name] of (form.infer?.using ?? []).entries()) {
    if (known.has(name)) continue;
    const near = nearestName(name, known.keys());
    problems.push(
      problem(
        'result-not-given',
        document.placeOf(['infer', 'using', index]),
        `No step of "each run" gives "${name}".`,
        near === undefined
          ? `They give ${[...known.keys()].join(', ') || 'nothing yet'}.`
          : `Did you mean "${near}"?`,
      ),
    );
  }
  return problems.length > 0 ? fail(...problems) : succeed({ free, using });
}
