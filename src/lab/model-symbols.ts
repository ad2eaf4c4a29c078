import type { Scope } from '../expression/index.ts';
import { checkDimensions, parseExpression } from '../expression/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { unknownDimension } from '../quantity/index.ts';
import type { LabForm } from './form.ts';
import type { LabModel } from './model-section.ts';
import type { Helpers } from './surroundings.ts';
import { timeDimension } from './time-dimension.ts';

/** What expressions along the motion, or on the relation, may name beside the quantities. */
export interface ModelSymbols {
  readonly dimensions: ReadonlyMap<string, Dimension>;
  /** Names that may bear primes. */
  readonly states: ReadonlySet<string>;
  readonly helpers: Helpers;
}

/** The symbols of a model that is sound. */
export function symbolsOf(model: LabModel): ModelSymbols {
  if (model.kind === 'motion') {
    const { stateNames } = model.model;
    const dimensions = stateNames.map((name) => [name, model.model.dimensionOfState(name)] as const);
    return {
      dimensions: new Map([...dimensions, ['t', timeDimension]]),
      states: new Set(stateNames),
      helpers: model.helpers,
    };
  }
  const dimensions: (readonly [string, Dimension])[] =
    model.kind === 'relation'
      ? [
          [model.relation.control, model.relation.controlDimension],
          [model.relation.output, model.relation.outputDimension],
        ]
      : [];
  const helpers: Helpers = model.kind === 'relation' ? model.helpers : new Map();
  return { dimensions: new Map(dimensions), states: new Set(), helpers };
}

/**
 * The symbols of a model that has problems of its own: states have the dimensions of their starts, as far as those
 * are good, and of helpers only the names are known.
 *
 * @returns null where the model does not even say what its symbols are
 */
export function symbolsByName({ model, where }: LabForm, scope: Scope): ModelSymbols | null {
  if (model?.rates === undefined) return null;
  const start = new Map(Object.entries(model.start ?? {}));
  const states = Object.keys(model.rates);
  const dimensions = states.map((name) => [name, dimensionOfStart(start.get(name), scope)] as const);
  const helpers = Object.keys(where ?? {}).map((name) => [name, unknownDimension] as const);
  return {
    dimensions: new Map([...dimensions, ...helpers, ['t', timeDimension]]),
    states: new Set(states),
    helpers: new Map(),
  };
}

function dimensionOfStart(written: string | number | undefined, scope: Scope): Dimension {
  const parsed = parseExpression(String(written ?? ''));
  // A bare number may be one that lacks its unit.
  if (!parsed.ok || (parsed.value.tree.kind === 'number' && parsed.value.tree.unit === undefined)) {
    return unknownDimension;
  }
  const checked = checkDimensions(parsed.value, scope);
  return checked.ok ? checked.value : unknownDimension;
}

/** A scope of quantities, widened by the symbols of a model. */
export function scopeWith({ dimensions, states }: ModelSymbols, scope: Scope): Scope {
  return {
    ...scope,
    dimensionOf: (name) => dimensions.get(name) ?? scope.dimensionOf(name),
    names: () => [...scope.names(), ...dimensions.keys()],
    primes: states,
  };
}
