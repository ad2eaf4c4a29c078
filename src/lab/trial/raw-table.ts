import type { DayGuess } from './dates.ts';

/** One column while it is being read. */
export interface RawColumn {
  values: Float64Array;
  /** Row and text of the first cells that hold text where a number should be, and how many there are. */
  readonly bad: { row: number; text: string }[];
  badCount: number;
  overloads: number;
  /** What its numbers are: decided by the first that is read. */
  kind: 'number' | 'clock' | null;
  /** Rows of clock times in two parts, and the largest first part. */
  readonly twoPart: number[];
  largestFirstPart: number;
  threePart: boolean;
  firstDay: DayGuess | null;
  doubtfulDate: boolean;
  /** Different cells of a column of words. */
  readonly examples: string[];
}

/** One stretch of lines: the readings between two headings. Columns that are not read have no room for values. */
export interface Block {
  readonly columns: readonly RawColumn[];
  lines: Int32Array;
  length: number;
  readonly label: string;
}

const smallest = 64;

/** An empty block with room for some rows; `isRead` tells the columns of numbers from those of words. */
export function newBlock(isRead: readonly boolean[], rows: number, label: string): Block {
  const room = Math.max(smallest, rows);
  const columns = isRead.map(
    (read): RawColumn => ({
      values: new Float64Array(read ? room : 0),
      bad: [],
      badCount: 0,
      overloads: 0,
      kind: null,
      twoPart: [],
      largestFirstPart: 0,
      threePart: false,
      firstDay: null,
      doubtfulDate: false,
      examples: [],
    }),
  );
  return { columns, lines: new Int32Array(room), length: 0, label };
}

/** Makes room for more rows, half as much again. */
export function growBlock(block: Block): void {
  const room = Math.ceil(block.lines.length * 1.5);
  const lines = new Int32Array(room);
  lines.set(block.lines);
  block.lines = lines;
  for (const column of block.columns) {
    if (column.values.length === 0) continue;
    const values = new Float64Array(room);
    values.set(column.values);
    column.values = values;
  }
}
