import type { Cell } from './cell.ts';

/** One line of cells, wherever it came from. */
export interface Row {
  /** Line of the file or row of the sheet, 1-based. */
  readonly line: number;
  readonly texts: readonly string[];
  readonly cells: readonly Cell[];
  /** The line as written, where it is one. */
  readonly text: string;
}

export type ColumnKind = 'number' | 'text' | 'blank';

/** How wide the table is and what its columns hold, judged from a sample of rows. */
export interface Shape {
  readonly width: number;
  readonly kinds: readonly ColumnKind[];
  /** Rows of that width with at least one number. */
  readonly rows: number;
}

export function isNumeric(cell: Cell | undefined): boolean {
  return cell !== undefined && (cell.kind === 'number' || cell.kind === 'clock');
}

/** Blank, or a mark that stands for a missing value: says nothing about what its column holds. */
export function isOpen(cell: Cell | undefined): boolean {
  return cell === undefined || cell.kind === 'blank' || cell.kind === 'marker' || cell.kind === 'overload';
}

/** How many cells a row has up to its last that is not blank. */
export function filledWidth(row: Row): number {
  let width = row.cells.length;
  while (width > 0 && row.cells[width - 1]?.kind === 'blank') width--;
  return width;
}

/** How many cells of a row hold a number or a clock time. */
export function numbersIn(row: Row): number {
  let count = 0;
  for (const cell of row.cells) if (isNumeric(cell)) count++;
  return count;
}

/** Most columns that are read; what stands further right is left out. */
export const mostColumns = 4096;

/**
 * The width whose rows hold the most numbers (each row counted by the square of them, so that a table wins
 * over as many lines of 'key; number'), and the kind of each column by the majority of its cells, in the
 * same weights.
 *
 * @returns null where no row holds a number
 */
export function shapeOf(rows: readonly Row[]): Shape | null {
  const weights = new Map<number, number>();
  for (const row of rows) {
    const numbers = numbersIn(row);
    if (numbers === 0) continue;
    weights.set(row.cells.length, (weights.get(row.cells.length) ?? 0) + numbers * numbers);
  }
  let width = 0;
  let most = 0;
  for (const [candidate, weight] of weights) {
    if (weight > most || (weight === most && candidate > width)) {
      width = candidate;
      most = weight;
    }
  }
  if (width === 0) return null;
  return { width: Math.min(width, mostColumns), ...kindsOf(rows, Math.min(width, mostColumns)) };
}

function kindsOf(rows: readonly Row[], width: number): { kinds: ColumnKind[]; rows: number } {
  const numbers = new Float64Array(width);
  const texts = new Float64Array(width);
  let count = 0;
  for (const row of rows) {
    if (Math.min(row.cells.length, mostColumns) !== width) continue;
    const found = numbersIn(row);
    if (found === 0) continue;
    count++;
    for (let column = 0; column < width; column++) {
      const cell = row.cells[column];
      if (isNumeric(cell)) numbers[column] += found * found;
      else if (!isOpen(cell)) texts[column] += found * found;
    }
  }
  const kinds = Array.from(numbers, (n, column): ColumnKind => {
    if (n === 0 && texts[column] === 0) return 'blank';
    return n >= texts[column] ? 'number' : 'text';
  });
  return { kinds, rows: count };
}
