import type { Expression, Scope } from '../expression/index.ts';
import { checkDimensions, namesIn, parseExpression } from '../expression/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Dimension, Estimate, Unit } from '../quantity/index.ts';
import { formatDimension, parseUnit, sameDimension } from '../quantity/index.ts';
import type { LabDocument } from './document.ts';
import { readEstimate } from './estimate-form.ts';
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

/**
 * Reads the quantities of a lab: values, uncertainties, and expressions checked for dimensions.
 *
 * @returns the quantities, or a problem for each symbol that is not good, has no value, has several, carries an
 * uncertainty of another dimension, names unknown symbols, or is defined in a circle
 */
export function readQuantities(
  forms: Readonly<Record<string, QuantityForm>>,
  document: LabDocument,
  tables: Tables,
): Outcome<Quantities> {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const base: BaseQuantity[] = [];
  const expressions = new Map<string, Expression>();
  for (const [name, form] of Object.entries(forms)) {
    const place = document.placeOfKey(['quantities', name]);
    const bad = checkSymbol(name, place);
    if (bad !== null) problems.push(bad);
    const sources = (['value', 'observed', 'at', 'equals'] as const).filter((key) => form[key] !== undefined);
    if (sources.length !== 1) {
      problems.push(wrongSources(name, sources, place));
    } else if (form.equals !== undefined) {
      const parsed = parseExpression(String(form.equals), document.originOf(['quantities', name, 'equals']));
      if (parsed.ok) expressions.set(name, parsed.value);
      else problems.push(...parsed.problems);
    } else {
      const read = readEstimate(name, form, document);
      if (!read.ok) {
        problems.push(...read.problems);
        continue;
      }
      warnings.push(...read.warnings);
      base.push({
        kind: 'base',
        name,
        is: form.is ?? '',
        index: base.length,
        estimate: read.value.estimate,
        unit: read.value.unit,
        dimension: read.value.unit.dimension,
        from: form.from ?? read.value.from,
        place,
      });
    }
  }
  const known = new Map<string, Dimension>(base.map((quantity) => [quantity.name, quantity.dimension]));
  const ordered = orderByNeed(expressions, new Set(Object.keys(forms)), document);
  if (!ordered.ok) return fail(...problems, ...ordered.problems);
  const derived: DerivedQuantity[] = [];
  for (const name of ordered.value) {
    const form = forms[name];
    const expression = expressions.get(name);
    if (form === undefined || expression === undefined) continue;
    const checked = checkDimensions(expression, quantityScope(known, tables, Object.keys(forms)));
    if (!checked.ok) {
      // Quantities that could not be read were reported already; what needs them is not at fault.
      const broken = [...namesIn(expression.tree)].some(
        (needed) => Object.hasOwn(forms, needed) && !known.has(needed),
      );
      if (!broken) problems.push(...checked.problems);
      continue;
    }
    const unit = readPrintUnit(name, form, checked.value, document);
    if (!unit.ok) problems.push(...unit.problems);
    known.set(name, checked.value);
    derived.push({
      kind: 'derived',
      name,
      is: form.is ?? '',
      index: base.length + derived.length,
      expression,
      unit: unit.ok ? unit.value : null,
      dimension: checked.value,
      from: form.from ?? 'computed',
      place: document.placeOfKey(['quantities', name]),
    });
  }
  if (problems.length > 0) return fail(...problems);
  const all: Quantity[] = [...base, ...derived];
  return succeed(
    { all, base, derived, byName: new Map(all.map((quantity) => [quantity.name, quantity])) },
    warnings,
  );
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
      `${name} has the dimension ${formatDimension(dimension)}, and "${form.unit}" has ${formatDimension(unit.value.dimension)}.`,
      'Give a unit of the same dimension.',
    ),
  );
}

/** Sorts names so that each comes after those its expression needs; names the circle where there is one. */
function orderByNeed(
  expressions: ReadonlyMap<string, Expression>,
  names: ReadonlySet<string>,
  document: LabDocument,
): Outcome<readonly string[]> {
  const order: string[] = [];
  const state = new Map<string, 'open' | 'done'>();
  const problems: Problem[] = [];
  const visit = (name: string, trail: readonly string[]): void => {
    const expression = expressions.get(name);
    if (expression === undefined || state.get(name) === 'done') return;
    if (state.get(name) === 'open') {
      const circle = [...trail.slice(trail.indexOf(name)), name];
      problems.push(
        problem(
          'circular-definition',
          document.placeOfKey(['quantities', name]),
          `${name} is defined through itself: ${circle.join(' → ')}.`,
          'Give one of them a value.',
        ),
      );
      return;
    }
    state.set(name, 'open');
    for (const needed of namesIn(expression.tree)) {
      if (names.has(needed)) visit(needed, [...trail, name]);
    }
    state.set(name, 'done');
    order.push(name);
  };
  for (const name of expressions.keys()) visit(name, []);
  return problems.length > 0 ? fail(...problems) : succeed(order);
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
