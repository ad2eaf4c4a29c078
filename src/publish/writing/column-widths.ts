import { type Inline, type PrintSettings, plainLine, type TableBlock } from '../document/index.ts';

/** What a hand needs in a cell, in letters. */
const FOR_HAND = 17;

/** Bold letters of a head are wider than those below it. */
const BOLD = 1.1;

/**
 * Widths of a table's columns, in letters, where its lines do not all fit beside one another: each column is at least
 * as wide as the longest piece in it that cannot be broken, and what is left goes to the columns with the longest lines.
 *
 * @param available what the page holds, in letters
 * @param padding   left and right of what stands in a cell, in letters
 * @returns null where everything fits as it is, and where not even the unbroken pieces do
 */
export function columnWidths(
  { head, rows, emptyRows }: TableBlock,
  settings: PrintSettings,
  available: number,
  padding: number,
): readonly number[] | null {
  const columns = head.map((title, column) => {
    const cells = rows.map((row) => row[column] ?? []);
    const isForHand = cells.every((cell) => cell.length === 0) && cells.length + emptyRows > 0;
    const name = lineOf(title, settings);
    const lines = cells.map((cell) => lineOf(cell, settings));
    const least = Math.max(
      BOLD * longestPieceOf(name),
      ...lines.map(longestPieceOf),
      isForHand ? FOR_HAND : 0,
    );
    const whole = Math.max(BOLD * name.length, ...lines.map((line) => line.length), least);
    return { least: least + padding, whole: whole + padding };
  });
  const sum = (key: 'least' | 'whole') => columns.reduce((total, column) => total + column[key], 0);
  const spare = available - sum('least');
  if (sum('whole') <= available || spare < 0) return null;
  const wanted = sum('whole') - sum('least');
  return columns.map(({ least, whole }) => least + (spare * (whole - least)) / wanted);
}

/** A line with the spaces at which it may be broken; numbers, units and formulas are never parted. */
function lineOf(inlines: readonly Inline[], settings: PrintSettings): string {
  return inlines
    .map((inline) => {
      if (inline.kind === 'text') return inline.text;
      if ('inlines' in inline) return lineOf(inline.inlines, settings);
      return plainLine([inline], settings).replaceAll(' ', '\u00a0');
    })
    .join('');
}

/** Letters of the longest piece between spaces at which a line may be broken. */
function longestPieceOf(line: string): number {
  return Math.max(0, ...line.split(/[ \n]/u).map((piece) => piece.length));
}
