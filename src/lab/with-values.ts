import type { Setting } from './effect-section.ts';
import type { Lab } from './lab.ts';
import type { Pipeline } from './pipeline.ts';
import type { BaseQuantity, Quantity } from './quantity-section.ts';

/**
 * A pipeline as if the lab file held other values of some quantities; their uncertainties stay as they are.
 *
 * It shares all that is compiled with the one that it comes from, and its work space too.
 */
export function withValues(pipeline: Pipeline, settings: readonly Setting[]): Pipeline {
  if (settings.length === 0) return pipeline;
  const { lab } = pipeline;
  const changed = new Map(settings.map(({ quantity, value }) => [quantity.index, value]));
  const change = (quantity: BaseQuantity): BaseQuantity => {
    const value = changed.get(quantity.index);
    return value === undefined ? quantity : { ...quantity, estimate: { ...quantity.estimate, value } };
  };
  const base = lab.quantities.base.map(change);
  const all: readonly Quantity[] = [...base, ...lab.quantities.derived];
  const quantities: Lab['quantities'] = {
    ...lab.quantities,
    base,
    all,
    byName: new Map(all.map((quantity) => [quantity.name, quantity])),
  };
  return {
    ...pipeline,
    lab: { ...lab, quantities },
    nominal: Float64Array.from(base, ({ estimate }) => estimate.value),
  };
}
