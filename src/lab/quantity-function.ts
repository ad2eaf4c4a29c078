import type { Expression } from '../expression/index.ts';
import { compileFunction, namesIn } from '../expression/index.ts';
import type { Quantities } from './quantity-section.ts';
import type { Tables } from './table-section.ts';

/** Values in SI of all quantities, base ones first: the one vector that every part of a lab reads. */
export type QuantityValues = Float64Array;

/** An expression of quantities made ready to evaluate; gives its value in SI. */
export type QuantityFunction = (values: QuantityValues) => number;

/** Compiles an expression of quantities; the expression's dimensions have been checked. */
export function compileOnQuantities(
  expression: Expression,
  quantities: Quantities,
  tables: Tables,
): QuantityFunction {
  const compiled = compileFunction([expression.tree], quantityNames(quantities), { tables });
  const out = new Float64Array(1);
  return (values) => {
    compiled(values, out);
    return out[0];
  };
}

/** The symbols of all quantities in the order of the vector of values. */
export function quantityNames(quantities: Quantities): string[] {
  return quantities.all.map((quantity) => quantity.name);
}

/**
 * Makes the function that fills in the derived quantities of a vector whose base quantities are set.
 *
 * @returns a function that writes each derived quantity at its index, in the order of need
 */
export function compileDerived(quantities: Quantities, tables: Tables): (values: QuantityValues) => void {
  const steps = quantities.derived.map((quantity) => ({
    index: quantity.index,
    evaluate: compileOnQuantities(quantity.expression, quantities, tables),
  }));
  return (values) => {
    for (const step of steps) values[step.index] = step.evaluate(values);
  };
}

/**
 * The base quantities that a set of symbols rests on, through derived ones.
 *
 * @returns indices of base quantities
 */
export function baseQuantitiesBehind(names: Iterable<string>, quantities: Quantities): ReadonlySet<number> {
  const found = new Set<number>();
  const seen = new Set<string>();
  const waiting = [...names];
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (seen.has(name)) continue;
    seen.add(name);
    const quantity = quantities.byName.get(name);
    if (quantity?.kind === 'base') found.add(quantity.index);
    else if (quantity?.kind === 'derived') waiting.push(...namesIn(quantity.expression.tree));
  }
  return found;
}
