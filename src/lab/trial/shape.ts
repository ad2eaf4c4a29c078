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
 * The width whose rows hold the most numbers, and the kind of each column by the majority of its cells.
 *
 * A row with n numbers counts n^1.5, so that a table wins over as many lines of 'key; number', and one long line
 * does not win over the many; words beside the numbers make it count for less, so that a short table wins over a few
 * long lines of figures in the text above it. The kinds are judged from one stretch between rows of words: the one with the most
 * numbers and the fewest words, where stretches that a row of words heads count fourfold.
 *
 * @returns null where no row holds a number
 */
export function shapeOf(rows: readonly Row[]): Shape | null {
  const weights = new Map<number, number>();
  for (const row of rows) {
    const numbers = numbersIn(row);
    const weight = numbers ** 1.5 * purityOf(row);
    if (weight > 0) weights.set(row.cells.length, (weights.get(row.cells.length) ?? 0) + weight);
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
  const ofWidth = rows.filter((row) => row.cells.length === width);
  width = Math.min(width, mostColumns);
  const numeric = ofWidth.filter((row) => numbersIn(row) > 0).length;
  return { width, kinds: kindsOf(densestStretch(ofWidth), width), rows: numeric };
}

/** The share of numbers among a row's numbers and words, squared. */
function purityOf(row: Row): number {
  const numbers = numbersIn(row);
  const words = row.cells.reduce((count, cell) => count + (cell.kind === 'text' ? 1 : 0), 0);
  return numbers === 0 ? 0 : (numbers / (numbers + words)) ** 2;
}

function densestStretch(rows: readonly Row[]): readonly Row[] {
  let best: Row[] = [];
  let most = -1;
  let stretch: Row[] = [];
  let headed = false;
  const close = (): void => {
    let weight = 0;
    for (const row of stretch) {
      weight += numbersIn(row) ** 1.5 * purityOf(row);
    }
    if (headed) weight *= 4;
    if (weight >= most) {
      most = weight;
      best = stretch;
    }
  };
  for (const row of rows) {
    if (numbersIn(row) > 0) stretch.push(row);
    else if (row.cells.some((cell) => cell.kind === 'text') && stretch.length > 0) {
      close();
      stretch = [];
      headed = true;
    } else if (row.cells.some((cell) => cell.kind === 'text')) headed = true;
  }
  if (stretch.length > 0) close();
  return best;
}

function kindsOf(rows: readonly Row[], width: number): ColumnKind[] {
  return Array.from({ length: width }, (_, column): ColumnKind => {
    let numbers = 0;
    let words = 0;
    for (const row of rows) {
      const cell = row.cells[column];
      if (isNumeric(cell)) numbers++;
      else if (!isOpen(cell)) words++;
    }
    if (numbers === 0 && words === 0) return 'blank';
    return numbers >= words ? 'number' : 'text';
  });
}
