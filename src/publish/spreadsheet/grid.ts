import type { Cell, CellStyle, CellValue, WriteSheet } from 'hucre';
import { cleanText } from '../writing/index.ts';

/** Looks of cells; each names its whole font, since programs do not agree on what is left out. */
const FONT = { name: 'Calibri', size: 11 } as const;
const LINE = { style: 'thin', color: { rgb: 'B9BEC5' } } as const;

const looks = {
  plain: { font: FONT },
  wrapped: { font: FONT, alignment: { vertical: 'top', wrapText: true } },
  title: { font: { ...FONT, size: 15, bold: true } },
  quiet: { font: { ...FONT, color: { rgb: '555A61' } } },
  head: {
    font: { ...FONT, bold: true },
    border: { bottom: { style: 'medium', color: { rgb: '1B1E23' } } },
    alignment: { wrapText: true, vertical: 'bottom' },
  },
  unit: { font: FONT, alignment: { horizontal: 'left', indent: 1 } },
  label: { font: { ...FONT, bold: true } },
  /** A value that the reader may change. */
  input: {
    font: { ...FONT, color: { rgb: '0B3D91' } },
    fill: { type: 'pattern', pattern: 'solid', fgColor: { rgb: 'FFF6D5' } },
    border: { top: LINE, bottom: LINE, left: LINE, right: LINE },
  },
  result: { font: { ...FONT, bold: true }, border: { top: LINE, bottom: LINE } },
} as const satisfies Readonly<Record<string, CellStyle>>;

/** Axes show as many digits as their ticks need, whatever the cells show. */
export const PLAIN = { formatCode: 'General', sourceLinked: false } as const;

export type Look = keyof typeof looks;

/** A sheet while it is filled; rows and columns count from 0. */
export interface Grid {
  readonly name: string;
  readonly rows: CellValue[][];
  readonly cells: Map<string, Partial<Cell>>;
}

export function createGrid(name: string): Grid {
  return { name, rows: [], cells: new Map() };
}

/** Puts text, always as text, or a number into a cell. */
export function put(
  grid: Grid,
  row: number,
  column: number,
  value: string | number,
  look: Look = 'plain',
  numFmt?: string,
): void {
  place(grid, row, column, typeof value === 'string' ? cleanText(value) : value);
  grid.cells.set(`${row},${column}`, {
    style: numFmt === undefined ? looks[look] : { ...looks[look], numFmt },
  });
}

/** Puts a formula, with what it gives today for those who only look. */
export function putFormula(
  grid: Grid,
  row: number,
  column: number,
  formula: string,
  result: number | null,
  look: Look = 'plain',
  numFmt?: string,
): void {
  const isKnown = result !== null && Number.isFinite(result);
  place(grid, row, column, isKnown ? result : null);
  grid.cells.set(`${row},${column}`, {
    formula,
    style: numFmt === undefined ? looks[look] : { ...looks[look], numFmt },
    ...(isKnown ? { formulaResult: result } : {}),
  });
}

/** Digits to be shown in a column of which the largest value is known: five that count, all of one place. */
export function digitsFor(largest: number): string {
  if (!(largest > 0)) return '0.0000';
  const lead = Math.floor(Math.log10(largest));
  if (lead < -4 || lead > 7) return '0.0000E+00';
  const decimals = Math.max(0, 4 - lead);
  return decimals === 0 ? '0' : `0.${'0'.repeat(decimals)}`;
}

function place(grid: Grid, row: number, column: number, value: CellValue): void {
  while (grid.rows.length <= row) grid.rows.push([]);
  const cells = grid.rows[row];
  if (cells === undefined) return;
  while (cells.length <= column) cells.push(null);
  cells[column] = value;
}

/** B7, or $B$7. */
export function address(row: number, column: number, isFixed = false): string {
  const mark = isFixed ? '$' : '';
  return `${mark}${letters(column)}${mark}${row + 1}`;
}

function letters(column: number): string {
  const last = String.fromCharCode(65 + (column % 26));
  return column < 26 ? last : letters(Math.floor(column / 26) - 1) + last;
}

/** A sheet's name as formulas write it. */
export function quoteSheet(name: string): string {
  return `'${name.replaceAll("'", "''")}'`;
}

/** The names that programs accept: 31 characters, none of them special, each once. */
export function sheetTitle(wanted: string, taken: Set<string>): string {
  const base =
    cleanText(wanted)
      .replace(/[\\/?*[\]:'\s]+/g, ' ')
      .trim()
      .slice(0, 26) || 'Data';
  let title = base;
  for (let n = 2; taken.has(title.toLowerCase()); n++) title = `${base} (${n})`;
  taken.add(title.toLowerCase());
  return title;
}

export function toSheet(grid: Grid, more: Partial<WriteSheet> = {}): WriteSheet {
  return { name: grid.name, rows: grid.rows, cells: grid.cells, ...more };
}
