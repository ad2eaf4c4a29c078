import { compileFunction, differentiate, simplify, substitute, type Tree } from '../expression/index.ts';
import { coverageFactor, type LinearPropagation, propagateLinear } from '../inference/index.ts';
import { type Lab, type Quantity, quantityNames } from '../lab/index.ts';

/** What one base quantity contributes to another quantity's variance. */
export interface BudgetLine {
  readonly from: string;
  /** Sensitivity: derivative of the quantity by this one, SI. */
  readonly sensitivity: number;
  /** |sensitivity|·u, SI. */
  readonly uncertainty: number;
  /** Part of the variance; with correlations one can be negative, all add up to 1. */
  readonly share: number;
}

/** A quantity with all that JCGM 100 asks a statement of uncertainty to hold (7.2.3, 7.2.4). SI. */
export interface QuantityStatement {
  readonly quantity: Quantity;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly interval: { readonly level: number; readonly low: number; readonly high: number };
  /** Contributions, the largest first; those of exact quantities are left out. */
  readonly budget: readonly BudgetLine[];
}

/** The usual level of a coverage interval; JCGM 100, 6.2.2. */
export const USUAL_LEVEL = 0.95;

/**
 * States every quantity of a lab: value, standard uncertainty, degrees of freedom, coverage interval and budget.
 *
 * Sensitivities are exact derivatives of the definitions, correlations are taken along.
 *
 * @param level of the coverage interval, between 0 and 1
 * Source: JCGM 100:2008, 5.1.2 and 5.2.2 (propagation), G.4 (effective degrees of freedom), G.6.4 (interval)
 */
export function stateQuantities(lab: Lab, level: number = USUAL_LEVEL): readonly QuantityStatement[] {
  const values = new Float64Array(lab.quantities.all.length);
  for (const quantity of lab.quantities.base) values[quantity.index] = quantity.estimate.value;
  lab.derive(values);
  const definitions = definitionsInBase(lab);
  return lab.quantities.all.map((quantity) => {
    const gradient = gradientOf(quantity, definitions, values, lab);
    const estimates = lab.quantities.base.map(({ estimate }) => estimate);
    const propagated = propagateLinear({ gradient, estimates, correlations: lab.correlations });
    return statement(quantity, values[quantity.index], propagated, gradient, level, lab);
  });
}

/** Each derived quantity as a tree of base quantities alone. */
function definitionsInBase(lab: Lab): ReadonlyMap<string, Tree> {
  const definitions = new Map<string, Tree>();
  for (const { name, expression } of lab.quantities.derived)
    definitions.set(name, substitute(expression.tree, definitions));
  return definitions;
}

function gradientOf(
  quantity: Quantity,
  definitions: ReadonlyMap<string, Tree>,
  values: Float64Array,
  lab: Lab,
): Float64Array {
  const { base } = lab.quantities;
  const gradient = new Float64Array(base.length);
  const definition = definitions.get(quantity.name);
  if (definition === undefined) {
    gradient[quantity.index] = 1;
    return gradient;
  }
  const derivatives = base.map(({ name }) => simplify(differentiate(definition, name)));
  compileFunction(derivatives, quantityNames(lab.quantities), { tables: lab.tables })(values, gradient);
  return gradient;
}

function statement(
  quantity: Quantity,
  value: number,
  propagated: LinearPropagation,
  gradient: Float64Array,
  level: number,
  lab: Lab,
): QuantityStatement {
  const { standardUncertainty, degreesOfFreedom, budget } = propagated;
  const expanded = expandedUncertainty(quantity, standardUncertainty, degreesOfFreedom, level);
  const lines = lab.quantities.base.flatMap(({ name, index }): BudgetLine[] => {
    const { uncertainty, share } = budget[index];
    return uncertainty === 0 ? [] : [{ from: name, sensitivity: gradient[index], uncertainty, share }];
  });
  return {
    quantity,
    value,
    standardUncertainty,
    degreesOfFreedom,
    interval: { level, low: value - expanded, high: value + expanded },
    budget: lines.sort((a, b) => Math.abs(b.share) - Math.abs(a.share)),
  };
}

/** Half of the coverage interval; a value known by its limits alone is spread evenly between them (JCGM 100, 4.3.7). */
function expandedUncertainty(quantity: Quantity, u: number, degreesOfFreedom: number, level: number): number {
  if (u === 0) return 0;
  const halfWidth =
    quantity.kind === 'base' && quantity.estimate.distribution === 'rectangular'
      ? quantity.estimate.halfWidth
      : undefined;
  return halfWidth === undefined ? coverageFactor(degreesOfFreedom, level) * u : level * halfWidth;
}
