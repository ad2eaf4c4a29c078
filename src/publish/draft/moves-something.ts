import type { Lab } from '../../lab/index.ts';
import { dimensionless, sameDimension } from '../../quantity/index.ts';

/** A length, in the order of the exponents. */
const LENGTH = [1, 0, 0, 0, 0, 0, 0] as const;

/** Whether the lab is about something that moves: a state is a place or an angle. */
export function movesSomething(model: Lab['model']): boolean {
  if (model.kind !== 'motion') return false;
  const { stateNames } = model.model;
  return stateNames.some((name) => {
    const dimension = model.model.dimensionOfState(name);
    return sameDimension(dimension, LENGTH) || sameDimension(dimension, dimensionless);
  });
}
