import { type Inline, type PrintSettings, plainLine, type TableBlock } from '../document/index.ts';

/** How a column of a table is set. */
export interface ColumnLook {
  readonly align: 'left' | 'right';
  /** How far each row's number is to be moved left, in digits, so that the decimal marks stand in line. */
  readonly paddings: readonly number[];
  /** Students fill it in: it must be wide enough for a hand. */
  readonly isForHand: boolean;
}

/** The look of every column: numbers by their decimal mark, values with units of their own from the left. */
export function columnLooks(table: TableBlock, settings: PrintSettings): readonly ColumnLook[] {
  const count = Math.max(1, table.head.length);
  return Array.from({ length: count }, (_none, column): ColumnLook => {
    const cells = table.rows.map((row) => plainLine(row[column] ?? [], settings));
    const isForHand = cells.every((text) => text.trim() === '') && cells.length + table.emptyRows > 0;
    const align = table.align[column] ?? 'left';
    const units = new Set(cells.map(unitBehind));
    if (align !== 'number') return { align, paddings: [], isForHand };
    if (units.size > 1 || !units.has(''))
      return { align: units.size > 1 ? 'left' : 'right', paddings: [], isForHand };
    return { align: 'right', paddings: paddingsOf(cells, settings.decimalMark), isForHand };
  });
}

/** Whether a row has places to be filled in. */
export function isRowForHand(row: readonly (readonly Inline[])[]): boolean {
  return row.some((cell) => cell.length === 0);
}

function unitBehind(text: string): string {
  return /\d[^\p{L}°%]*([\p{L}°%].*)$/u.exec(text)?.[1]?.trim() ?? '';
}

function paddingsOf(cells: readonly string[], decimalMark: string): readonly number[] {
  const tails = cells.map((text) => tailLength(text, decimalMark));
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
