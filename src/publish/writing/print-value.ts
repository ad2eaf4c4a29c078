import type { Inline, PrintSettings, ValueInline } from '../document/index.ts';
import { plainLine } from '../document/index.ts';

/** A number with its uncertainty and unit, as the settings ask for it. Number and unit never part at a line's end. */
export function printValue(value: ValueInline, settings: PrintSettings): string {
  return plainLine([value], settings).replaceAll(' ', '\u00a0');
}

/** How far each cell of a column of numbers is to be moved left, in digits, so that the decimal marks stand in line. */
export function paddingOfColumn(
  cells: readonly (readonly Inline[])[],
  settings: PrintSettings,
): readonly number[] {
  const tails = cells.map((cell) => tailLength(plainLine(cell, settings), settings.decimalMark));
  const longest = Math.max(0, ...tails.map((tail) => tail ?? 0));
  return tails.map((tail) => (tail === null ? 0 : longest - tail));
}

/** Characters from the decimal mark on; null for what is no number. */
function tailLength(text: string, decimalMark: string): number | null {
  if (!/\d/.test(text)) return null;
  const at = text.indexOf(decimalMark);
  if (at >= 0) return text.length - at;
  return text.length - (/^\D*\d+/.exec(text)?.[0].length ?? text.length);
}
