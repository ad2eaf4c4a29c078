import type { Lab, Setting } from '../../src/lab/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { succeed } from '../../src/problem/index.ts';
import { parseMagnitude, sameDimension } from '../../src/quantity/index.ts';
import type { OpenedLab, Room } from './room.ts';
import type { LabSource } from './source.ts';

/** An open lab, and what is in the hand beside it. */
interface InHand {
  readonly opened: OpenedLab;
  readonly values: readonly Setting[];
}

/** The lab as it is written, with what is in the hand as values beside it, so that a slider's next place costs runs alone. */
export async function openForHand(room: Room, source: LabSource): Promise<Outcome<InHand>> {
  const written = await room.open({ ...source, settings: [] });
  const values = written.ok ? settingsInHand(written.value.lab, source.settings) : null;
  if (written.ok && values !== null) return succeed({ opened: written.value, values }, written.warnings);
  const whole = await room.open(source);
  return whole.ok ? succeed({ opened: whole.value, values: [] }, whole.warnings) : whole;
}

/**
 * What is in the hand as values of the lab's own quantities.
 *
 * @param settings base quantities with what will be written: `['I', '7.5e-7 kg m^2']`
 * @returns null where one of them is not a value of a quantity that can be set; the text then tells what is wrong
 */
function settingsInHand(
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
