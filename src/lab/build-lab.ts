import { substitute } from '../expression/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { Estimate } from '../quantity/index.ts';
import type { CheckedForm } from './check-form.ts';
import { readCorrelations } from './correlation-section.ts';
import { readDerivation } from './derivation-section.ts';
import type { LabDocument } from './document.ts';
import { readEffects } from './effect-section.ts';
import { equipForm } from './equip-form.ts';
import { findCrowds } from './find-crowds.ts';
import { findVaried } from './find-varied.ts';
import { findInfiniteQuantities } from './finite-quantities.ts';
import type { LabForm } from './form.ts';
import { readInfer } from './infer-section.ts';
import { findIdleEffects, influentialQuantities } from './influence.ts';
import { readInstrumentDrafts } from './instrument-draft.ts';
import { type Kit, readKits } from './kit-section.ts';
import type { Lab } from './lab.ts';
import { type LabModel, readModel } from './model-section.ts';
import { scopeWith, symbolsByName, symbolsOf } from './model-symbols.ts';
import { programDocument } from './overlay-document.ts';
import { readPlan } from './plan-section.ts';
import { compileDerived } from './quantity-function.ts';
import { type Quantities, readQuantities, scopeOf, withEstimates } from './quantity-section.ts';
import { readInstruments } from './read-instruments.ts';
import { readReduction } from './reduction-section.ts';
import { resolveHelpers } from './resolve-helpers.ts';
import { readResults } from './result-section.ts';
import { readSlips } from './slip-section.ts';
import { readStations } from './station-section.ts';
import type { Surroundings } from './surroundings.ts';
import { readTables } from './table-section.ts';
import { createTeller } from './tell-reduction.ts';
import { readTrials } from './trial-section.ts';
import type { ValidityCondition } from './validity.ts';
import { writtenParts } from './written-parts.ts';

/** What a kit makes of a lab while it is read: its form has been changed already. */
export interface Equipment {
  /** Values with uncertainties in place of the lab's own, by symbol. */
  readonly estimates: ReadonlyMap<string, Estimate>;
}

/**
 * Reads the sections one after another, each with what those before it gave. One that has a problem does not keep the
 * others from being read: what would rest on it counts as unknown, and nothing is said of that a second time.
 */
export function buildLab(
  { form, damaged, problems: misfits }: CheckedForm & { readonly form: LabForm },
  document: LabDocument,
  told: readonly Problem[],
  equipment: Equipment | null = null,
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
  const written = read(readQuantities(form.quantities, damaged, document, tables));
  const quantities = withEstimates(written.quantities, equipment?.estimates ?? new Map());
  // Everything else is written in terms of the quantities: without them no further message would be true.
  if (!isSound('quantities') || tables === undefined) return fail(...problems);
  const around = { document, quantities, tables, scope: scopeOf(quantities, tables) };
  const effects = collect(
    readEffects(form.effects ?? {}, quantities, document, equipment === null ? 'told' : 'passed over'),
  );
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
      : collect(readReduction(form.reduction ?? {}, { ...around, instruments, varied, validity }));
  const results = collect(readResults(form.results ?? {}, reduction ?? null, around));
  const infer =
    reduction === undefined
      ? undefined
      : collect(readInfer(form, effects ?? [], quantities, reduction, varied, document));
  const kits = collect(readKits(form, quantities, document));
  const stations = collect(readStations(form.stations ?? {}, results ?? null, around));
  const tell = createTeller(form, around, {
    drafts: drafts ?? [],
    model: model ?? null,
    symbols,
    varied,
    validity,
  });
  // A slip that cannot be told of a kit's reduction has been told of the lab's own.
  const slips =
    instruments === undefined || reduction === undefined
      ? undefined
      : collect(
          readSlips(
            form.slips ?? {},
            {
              around,
              instruments,
              results: results ?? [],
              tell,
              usualValue: (symbol) => usualValueOf(symbol, written.quantities),
            },
            equipment === null ? 'told' : 'passed over',
          ),
        );
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
    infer === undefined ||
    kits === undefined ||
    stations === undefined ||
    slips === undefined
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
    written: writtenParts(form),
    kits,
    stations,
    slips,
    equip: (chosen) => equipLab(chosen, form, document),
    tell: (change, words) => tell(change, [], programDocument(document.file, words)),
  };
  problems.push(...findInfiniteQuantities(lab));
  // Equipment may leave an effect nothing to do: a track of air has no rolling resistance.
  if (equipment !== null) return problems.length > 0 ? fail(...problems) : succeed(lab, warnings);
  const idle = findIdleEffects(effects, influential, model);
  problems.push(...idle.problems, ...findUnfitKits(lab));
  return problems.length > 0 ? fail(...problems) : succeed(lab, [...warnings, ...idle.warnings]);
}

function usualValueOf(symbol: string, quantities: Quantities): number {
  const quantity = quantities.byName.get(symbol);
  return quantity?.kind === 'base' ? quantity.estimate.value : 0;
}

/** The lab with other equipment, checked like the lab itself. */
function equipLab(kits: readonly Kit[], form: LabForm, document: LabDocument): Outcome<Lab> {
  const equipped = equipForm(form, kits, document);
  if (!equipped.ok) return equipped;
  const { form: changed, document: overlaid, estimates } = equipped.value;
  const lab = buildLab({ form: changed, problems: [], damaged: new Set() }, overlaid, [], { estimates });
  const words = kits.map(({ name }) => `kit "${name}"`).join(' with ');
  return lab.ok
    ? lab
    : fail(...lab.problems.map((found) => ({ ...found, place: { ...found.place, step: words } })));
}

/** What is wrong with kits that change more than values; those that only change values fit where the values do. */
function findUnfitKits(lab: Lab): readonly Problem[] {
  return lab.kits
    .filter(({ change }) => change.instruments !== undefined || change.reduction !== undefined)
    .flatMap((kit) => {
      const equipped = lab.equip([kit]);
      return equipped.ok ? [] : equipped.problems;
    });
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
