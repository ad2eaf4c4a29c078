import type { Setting } from '../../lab/index.ts';
import { fromSI, type Unit } from '../../quantity/index.ts';

/** A number that JSON can hold: null where it is not finite. */
export function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** A point of a scale, from SI into its unit. */
export function pointIn(unit: Unit, value: number): number | null {
  return finite(fromSI(value, unit, 'point'));
}

/** A difference or an uncertainty, from SI into its unit. */
export function intervalIn(unit: Unit, value: number): number | null {
  return finite(fromSI(value, unit, 'interval'));
}

/** Settings by symbol: value, the unit the lab gives the quantity in, and SI. */
export function settingsToJson(settings: readonly Setting[]): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    settings.map(({ quantity, value }) => [
      quantity.name,
      { value: pointIn(quantity.unit, value), unit: quantity.unit.text, si: finite(value) },
    ]),
  );
}
