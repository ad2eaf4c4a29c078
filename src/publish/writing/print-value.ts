import type { PrintSettings, ValueInline } from '../document/index.ts';
import { plainLine } from '../document/index.ts';

/** A number with its uncertainty and unit, as the settings ask for it. Number and unit never part at a line's end. */
export function printValue(value: ValueInline, settings: PrintSettings): string {
  return plainLine([value], settings).replaceAll(' ', '\u00a0');
}
