import type { Lab, Setting } from '../../src/lab/index.ts';
import { parseMagnitude, sameDimension } from '../../src/quantity/index.ts';

/**
 * What is in the hand as values of the lab's own quantities.
 *
 * @param settings base quantities with what will be written: `['I', '7.5e-7 kg m^2']`
 * @returns null where one of them is not a value of a quantity that can be set; the text then tells what is wrong
 */
export function settingsInHand(
  lab: Lab,
  settings: readonly (readonly [name: string, written: string])[],
): readonly Setting[] | null {
  const values: Setting[] = [];
  for (const [name, written] of settings) {
    const quantity = lab.quantities.base.find((one) => one.name === name);
    const magnitude = parseMagnitude(written, 'point');
    if (quantity === undefined || !magnitude.ok) return null;
    if (!sameDimension(magnitude.value.unit.dimension, quantity.dimension)) return null;
    values.push({ quantity, value: magnitude.value.value });
  }
  return values;
}
