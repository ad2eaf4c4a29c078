import type { BaseQuantity } from '../lab/index.ts';

/** A change of one quantity that would by itself close the remainder, to first order. */
export interface Closing {
  readonly quantity: BaseQuantity;
  /** Value it would have to have, SI. */
  readonly needed: number;
  /** The change over the quantity's standard uncertainty. */
  readonly inUncertainties: number;
  /** Whether the change is within two standard uncertainties, the usual reach of a stated value. */
  readonly plausible: boolean;
}

/** Changes beyond this many standard uncertainties are not worth naming. */
const FARTHEST = 10;

/** Two standard uncertainties hold about 95 % of a normal distribution; JCGM 100, 6.3.3. */
const PLAUSIBLE = 2;

/**
 * Which quantity, changed alone, would close a remainder.
 *
 * @param remainder measured − full, SI
 * @param sensitivities derivative of (measured − full) by each quantity, SI
 * @param quantities the uncertain base quantities, in the same order
 * @returns changes of up to ten standard uncertainties, the smallest first
 */
export function closeRemainder(
  remainder: number,
  sensitivities: ArrayLike<number>,
  quantities: readonly BaseQuantity[],
): readonly Closing[] {
  return quantities
    .flatMap((quantity, index): Closing[] => {
      const sensitivity = sensitivities[index] ?? 0;
      const { value, standardUncertainty } = quantity.estimate;
      const change = -remainder / sensitivity;
      const inUncertainties = change / standardUncertainty;
      if (!Number.isFinite(inUncertainties) || Math.abs(inUncertainties) > FARTHEST) return [];
      return [
        {
          quantity,
          needed: value + change,
          inUncertainties,
          plausible: Math.abs(inUncertainties) <= PLAUSIBLE,
        },
      ];
    })
    .sort((a, b) => Math.abs(a.inUncertainties) - Math.abs(b.inUncertainties));
}
