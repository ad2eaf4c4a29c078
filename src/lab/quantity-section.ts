import type { Expression, Scope } from '../expression/index.ts';
import { checkDimensions, namesIn, parseExpression, sayDimension } from '../expression/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Dimension, Estimate, Unit } from '../quantity/index.ts';
import { parseUnit, sameDimension, unknownDimension } from '../quantity/index.ts';
import type { LabDocument } from './document.ts';
import { type EstimateReading, readEstimate } from './estimate-form.ts';
import type { QuantityForm } from './form.ts';
import { checkSymbol } from './identifiers.ts';
import type { Tables } from './table-section.ts';
import { timeDimension } from './time-dimension.ts';

/** A quantity that is given: its value and uncertainty come from the author, from readings or from a place. */
export interface BaseQuantity {
  readonly kind: 'base';
  readonly name: string;
  readonly is: string;
  /** Index in the vector of all quantities; base quantities come first. */
  readonly index: number;
  readonly estimate: Estimate;
  /** How far the value of a single run lies from that of the quantity, around 0; null where all runs have the same. */
  readonly eachRun: Estimate | null;
  readonly unit: Unit;
  readonly dimension: Dimension;
  readonly from: string;
  readonly place: Place;
}

/** A quantity that is computed from others. */
export interface DerivedQuantity {
  readonly kind: 'derived';
  readonly name: string;
  readonly is: string;
  readonly index: number;
  readonly expression: Expression;
  /** The unit the author wants it printed in, or null for SI. */
  readonly unit: Unit | null;
  readonly dimension: Dimension;
  readonly from: string;
  readonly place: Place;
}

export type Quantity = BaseQuantity | DerivedQuantity;

/** All quantities of a lab: base ones first, then derived ones in an order in which each knows those it needs. */
export interface Quantities {
  readonly all: readonly Quantity[];
  readonly base: readonly BaseQuantity[];
  readonly derived: readonly DerivedQuantity[];
  readonly byName: ReadonlyMap<string, Quantity>;
}

/** The quantities as far as they could be read. */
export interface QuantitiesReading {
  /** Quantities with a problem are among them, with an unknown dimension: what uses them is not told again. */
  readonly quantities: Quantities;
  readonly problems: readonly Problem[];
}

/**
 * Reads the quantities of a lab: values, uncertainties, and expressions checked for dimensions.
 *
 * @param damaged holds 'quantities.' and the name of each entry that had to be left out, which was told
 * @param tables  undefined where they have problems of their own
 * @returns the quantities, and a problem for each symbol that is not good, has no value, has several, carries an
 * uncertainty of another dimension, names unknown symbols, or is defined in a circle
 */
export function readQuantities(
  forms: Readonly<Record<string, QuantityForm>>,
  damaged: ReadonlySet<string>,
  document: LabDocument,
  tables: Tables | undefined,
): QuantitiesReading {
  const problems: Problem[] = [];
  const base: BaseQuantity[] = [];
  const expressions = new Map<string, Expression>();
  for (const [name, form] of Object.entries(forms)) {
    const place = document.placeOfKey(['quantities', name]);
    const bad = checkSymbol(name, place);
    if (bad !== null) problems.push(bad);
    const isDamaged = damaged.has(`quantities.${name}`);
    if (form.equals !== undefined && !isDamaged && sourcesOf(form).length === 1) {
      const parsed = parseExpression(String(form.equals), document.originOf(['quantities', name, 'equals']));
      problems.push(...(parsed.ok ? uselessKeys(name, form, document) : parsed.problems));
      if (parsed.ok) {
        expressions.set(name, parsed.value);
        continue;
      }
    }
    const { written, problems: found } = isDamaged ? unread : readBase(name, form, place, document);
    problems.push(...found);
    base.push({
      kind: 'base',
      name,
      is: form.is ?? '',
      index: base.length,
      estimate: written?.estimate ?? unknownEstimate,
      eachRun: written?.eachRun ?? null,
      unit: written?.unit ?? unknownUnit,
      dimension: written?.unit.dimension ?? unknownDimension,
      from: form.from ?? written?.from ?? '',
      place,
    });
  }
  const derived = readDerived(forms, expressions, base, document, tables ?? new Map());
  const tellsTables = tables !== undefined;
  problems.push(...derived.problems.filter(({ code }) => tellsTables || code !== 'unknown-table'));
  const all: Quantity[] = [...base, ...derived.quantities];
  return {
    quantities: {
      all,
      base,
      derived: derived.quantities,
      byName: new Map(all.map((quantity) => [quantity.name, quantity])),
    },
    problems,
  };
}

const unread: EstimateReading = { written: null, problems: [] };

function sourcesOf(form: QuantityForm): readonly string[] {
  return (['value', 'observed', 'at', 'equals'] as const).filter((key) => form[key] !== undefined);
}

function readBase(name: string, form: QuantityForm, place: Place, document: LabDocument): EstimateReading {
  const sources = sourcesOf(form);
  if (sources.length !== 1) return { written: null, problems: [wrongSources(name, sources, place)] };
  return form.equals === undefined ? readEstimate(name, form, document) : unread;
}

/** Value, unit and dimension of a quantity that could not be read; the lab is never run with them. */
const unknownEstimate: Estimate = {
  value: Number.NaN,
  standardUncertainty: Number.NaN,
  degreesOfFreedom: Number.POSITIVE_INFINITY,
  distribution: 'normal',
};
const unknownUnit: Unit = { text: '', factor: 1, offset: 0, dimension: unknownDimension, angle: 0 };

function readDerived(
  forms: Readonly<Record<string, QuantityForm>>,
  expressions: ReadonlyMap<string, Expression>,
  base: readonly BaseQuantity[],
  document: LabDocument,
  tables: Tables,
): { readonly quantities: readonly DerivedQuantity[]; readonly problems: readonly Problem[] } {
  const known = new Map<string, Dimension>(base.map((quantity) => [quantity.name, quantity.dimension]));
  const { order, circular, problems: circles } = orderByNeed(expressions, document);
  const problems: Problem[] = [...circles];
  for (const name of circular) known.set(name, unknownDimension);
  const quantities: DerivedQuantity[] = [];
  for (const name of order) {
    const form = forms[name];
    const expression = expressions.get(name);
    if (form === undefined || expression === undefined) continue;
    const checked = checkDimensions(expression, quantityScope(known, tables, Object.keys(forms)));
    if (!checked.ok) problems.push(...checked.problems);
    const dimension = checked.ok && !circular.has(name) ? checked.value : unknownDimension;
    const unit = readPrintUnit(name, form, dimension, document);
    if (!unit.ok) problems.push(...unit.problems);
    known.set(name, dimension);
    quantities.push({
      kind: 'derived',
      name,
      is: form.is ?? '',
      index: base.length + quantities.length,
      expression,
      unit: unit.ok ? unit.value : null,
      dimension,
      from: form.from ?? 'computed',
      place: document.placeOfKey(['quantities', name]),
    });
  }
  return { quantities, problems };
}

/** A computed quantity takes its uncertainty from those it is computed of; one of its own would go unheard. */
function uselessKeys(name: string, form: QuantityForm, document: LabDocument): Problem[] {
  const keys = (['u', 'within', 'reading', 'expanded', 'dof', 'each run'] as const).filter(
    (key) => form[key] !== undefined,
  );
  return keys.map((key) =>
    problem(
      'computed-quantity',
      document.placeOfKey(['quantities', name, key]),
      `${name} is computed, so its uncertainty comes from the quantities in "equals"; "${key}" cannot stand here.`,
      'Give it to the quantity that is uncertain.',
    ),
  );
}

/** The quantities with other values and uncertainties in place of some of the given ones. */
export function withEstimates(quantities: Quantities, estimates: ReadonlyMap<string, Estimate>): Quantities {
  if (estimates.size === 0) return quantities;
  const base = quantities.base.map((quantity) => ({
    ...quantity,
    estimate: estimates.get(quantity.name) ?? quantity.estimate,
  }));
  const all: Quantity[] = [...base, ...quantities.derived];
  return { ...quantities, all, base, byName: new Map(all.map((quantity) => [quantity.name, quantity])) };
}

/** What expressions of quantities may name: the quantities themselves and the tables. */
function quantityScope(
  known: ReadonlyMap<string, Dimension>,
  tables: Tables,
  names: readonly string[],
): Scope {
  return { dimensionOf: (name) => known.get(name), names: () => names, tables, time: timeDimension };
}

/** The scope of expressions that may name quantities and nothing else: theories, settings, ranges. */
export function scopeOf(quantities: Quantities, tables: Tables): Scope {
  return {
    dimensionOf: (name) => quantities.byName.get(name)?.dimension,
    names: () => quantities.byName.keys(),
    tables,
    time: timeDimension,
  };
}

function wrongSources(name: string, sources: readonly string[], place: Place): Problem {
  if (sources.length === 0) {
    return problem(
      'symbol-without-value',
      place,
      `${name} has no value.`,
      'Give a value with its unit ("value: 1.2 m"), repeated readings ("observed: […]"), a place ("at: …") or an expression ("equals: …").',
    );
  }
  return problem(
    'several-values',
    place,
    `${name} has ${sources.map((source) => `"${source}"`).join(' and ')}; exactly one of them can say what it is.`,
  );
}

function readPrintUnit(
  name: string,
  form: QuantityForm,
  dimension: Dimension,
  document: LabDocument,
): Outcome<Unit | null> {
  if (form.unit === undefined) return succeed(null);
  const origin = document.originOf(['quantities', name, 'unit']);
  const unit = parseUnit(form.unit, origin);
  if (!unit.ok) return unit;
  if (sameDimension(unit.value.dimension, dimension)) return unit;
  return fail(
    problem(
      'wrong-dimension',
      origin.placeAt(0),
      `${name} ${sayDimension(dimension)}, and "${form.unit}" ${sayDimension(unit.value.dimension)}.`,
      'Give a unit of the same dimension.',
    ),
  );
}

/** Sorts names so that each comes after those its expression needs; names the circles where there are any. */
function orderByNeed(
  expressions: ReadonlyMap<string, Expression>,
  document: LabDocument,
): {
  readonly order: readonly string[];
  readonly circular: ReadonlySet<string>;
  readonly problems: readonly Problem[];
} {
  const order: string[] = [];
  const circular = new Set<string>();
  const state = new Map<string, 'open' | 'done'>();
  const problems: Problem[] = [];
  const visit = (name: string, trail: readonly string[]): void => {
    const expression = expressions.get(name);
    if (expression === undefined || state.get(name) === 'done') return;
    if (state.get(name) === 'open') {
      const circle = trail.slice(trail.indexOf(name));
      for (const member of circle) circular.add(member);
      problems.push(
        problem(
          'circular-definition',
          document.placeOfKey(['quantities', name]),
          `${name} is defined through itself: ${[...circle, name].join(' → ')}.`,
          'Give one of them a value.',
        ),
      );
      return;
    }
    state.set(name, 'open');
    for (const needed of namesIn(expression.tree)) visit(needed, [...trail, name]);
    state.set(name, 'done');
    order.push(name);
  };
  for (const name of expressions.keys()) visit(name, []);
  return { order, circular, problems };
}

/** A sentence for a symbol that is not a quantity, with the nearest that is. */
export function unknownQuantity(name: string, quantities: Quantities, place: Place): Problem {
  const near = nearestName(name, quantities.byName.keys());
  const advice =
    near !== undefined
      ? `Did you mean "${near}"?`
      : `The quantities are ${[...quantities.byName.keys()].join(', ')}.`;
  return problem('unknown-quantity', place, `"${name}" is not a quantity of this lab.`, advice);
}
