import { beginsLikeNumber, type Marks, readCell } from './cell.ts';
import { type CellUnits, unitsInCells, withoutUnits } from './cell-units.ts';
import { headingCells } from './heading-cells.ts';
import { numbersIn, type Row, type Shape, shapeOf } from './shape.ts';
import { splitLine } from './split-line.ts';
import type { DecimalMark, Delimiter } from './trial-table.ts';

/** How the numbers of a text file are written, and why this was believed. */
export interface Dialect {
  readonly delimiter: Delimiter;
  readonly marks: Marks;
  readonly shape: Shape;
  readonly cellUnits: CellUnits;
  /** What the text leaves open; each is told to the reader with the way to overrule it. */
  readonly doubts: readonly DialectDoubt[];
}

export type DialectDoubt =
  /** Every number with a mark has three digits after it: decimals, or thousands? */
  | 'decimals or thousands'
  /** A comma and three digits, beside numbers with a decimal point: taken as thousands. */
  | 'thousands beside decimal points'
  /** Two whole numbers with a comma between: two columns, or one with decimal comma? */
  | 'two columns or decimal comma'
  /** Twice as many whole numbers as headings, between commas: decimal commas that cannot be told from delimiters. */
  | 'decimal comma between commas';

const delimiters: readonly Delimiter[] = [';', '\t', ',', '|', 'none', 'space'];
const decimals: readonly DecimalMark[] = ['.', ','];

/**
 * Chooses delimiter and decimal mark together: the pair under which the sample's lines fall into the most
 * numbers, with the fewest cells that are torn (text in which a digit, a delimiter and a digit meet), in lines
 * of one width, below a heading of the same width.
 *
 * @param lines sample of the text, without blank lines
 * @param told what the lab file fixes
 * @returns null where no line holds a number
 */
export function detectDialect(
  lines: readonly string[],
  told: { delimiter?: Delimiter | undefined; decimal?: DecimalMark | undefined },
): Dialect | null {
  let best: Reading | null = null;
  for (const delimiter of told.delimiter === undefined ? delimiters : [told.delimiter]) {
    if (told.delimiter === undefined && !occurs(delimiter, lines)) continue;
    for (const decimal of told.decimal === undefined ? decimals : [told.decimal]) {
      const reading = readSample(lines, delimiter, decimal, told.decimal !== undefined);
      if (reading !== null && (best === null || reading.score > best.score * 1.000001)) best = reading;
    }
  }
  if (best === null) return null;
  const { delimiter, shape } = best;
  return {
    delimiter,
    marks: { decimal: best.decimal, thousands: best.thousands },
    shape,
    cellUnits: best.cellUnits,
    doubts: doubtsOf(best, told),
  };
}

interface Reading {
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  readonly thousands: string | null;
  readonly thousandsSure: boolean;
  readonly rows: readonly Row[];
  readonly shape: Shape;
  readonly cellUnits: CellUnits;
  readonly heading: HeadingFit;
  readonly score: number;
}

type HeadingFit = 'fits' | 'none' | { readonly cells: number };

function occurs(delimiter: Delimiter, lines: readonly string[]): boolean {
  if (delimiter === 'none') return true;
  if (delimiter === 'space') return lines.some((line) => /\S[ \t]+\S/.test(line));
  return lines.some((line) => line.includes(delimiter));
}

function readSample(
  lines: readonly string[],
  delimiter: Delimiter,
  decimal: DecimalMark,
  decimalIsTold: boolean,
): Reading | null {
  const split = lines.map((line) => splitLine(line, delimiter));
  if (delimiter === ',' && decimal === ',' && !split.some((line) => line.quoted)) return null;
  const written = split.map((line) => line.cells);
  const cellUnits = unitsInCells(written);
  const lineCells = written.map((cells) => withoutUnits(cells, cellUnits));
  const { thousands, sure } = groupingOf(lineCells, decimal, delimiter, decimalIsTold);
  const marks: Marks = { decimal, thousands };
  const rows = lineCells.map((cells, index): Row => {
    const text = lines[index] ?? '';
    return { line: 0, texts: cells, cells: cells.map((cell) => readCell(cell, marks)), text };
  });
  const shape = shapeOf(rows);
  if (shape === null) return null;
  const heading = headingFit(rows, shape, delimiter, decimal);
  let score = 0;
  for (const row of rows) {
    if (fitsShape(row, shape)) score += Math.max(0, numbersWorth(row, delimiter, decimal));
  }
  score *= heading === 'fits' ? 1 : heading === 'none' ? 0.8 : 0.45;
  if (looksLikeOneColumn(rows, shape, delimiter, decimal)) score *= 0.45;
  return { delimiter, decimal, thousands, thousandsSure: sure, rows, shape, cellUnits, heading, score };
}

/** Whether a row has the width of the table and more numbers than words in its number columns. */
function fitsShape(row: Row, shape: Shape): boolean {
  if (row.cells.length !== shape.width) return false;
  const words = row.cells.filter(
    (cell, column) => cell.kind === 'text' && shape.kinds[column] === 'number',
  ).length;
  return numbersIn(row) > words;
}

function numbersWorth(row: Row, delimiter: Delimiter, decimal: DecimalMark): number {
  let worth = 0;
  row.cells.forEach((cell, column) => {
    const text = row.texts[column] ?? '';
    if (cell.kind === 'number' || cell.kind === 'clock') {
      const zeroFirst = delimiter === ',' && decimal === '.' && /^0\d/.test(text);
      worth += zeroFirst ? -1 : cell.kind === 'number' && cell.grouped !== null ? 0.9 : 1;
    } else if (cell.kind === 'text' && isTorn(text)) worth -= 2;
  });
  return worth;
}

/** A delimiter or a mark between digits, or one left hanging at a number: the text was cut in the wrong places. */
function isTorn(text: string): boolean {
  return (
    /\d["']?\s*[;,\t|]\s*["']?[-+.]?\d/.test(text) ||
    /^[-+]?[\d.]+[,;|]$/.test(text) ||
    /\d[ \t]+[-+]?\d/.test(text)
  );
}

function headingFit(
  rows: readonly Row[],
  shape: Shape,
  delimiter: Delimiter,
  decimal: DecimalMark,
): HeadingFit {
  const first = rows.findIndex(
    (row) =>
      row.cells.length === shape.width &&
      numbersIn(row) > 0 &&
      row.cells.every((cell, column) => shape.kinds[column] !== 'number' || cell.kind !== 'text'),
  );
  const above = rows
    .slice(0, Math.max(0, first))
    .findLast((row) => numbersIn(row) === 0 && row.cells.some((cell) => cell.kind === 'text'));
  if (above === undefined || rows.indexOf(above) < first - 2) return 'none';
  const cells = headingCells(above, delimiter, shape.width).length;
  if (delimiter === 'none' && decimal === ',' && above.text.includes(',')) return { cells: 2 };
  const filled = shape.kinds.findLastIndex((kind) => kind !== 'blank') + 1;
  return cells === shape.width || (cells >= filled && cells < shape.width) ? 'fits' : { cells };
}

/** Two whole numbers on every line, a comma between, the second always as long: decimals of one column. */
function looksLikeOneColumn(
  rows: readonly Row[],
  shape: Shape,
  delimiter: Delimiter,
  decimal: DecimalMark,
): boolean {
  if (delimiter !== ',' || decimal !== '.' || shape.width !== 2 || shape.rows < 3) return false;
  const lengths = new Set<number>();
  for (const row of rows) {
    if (numbersIn(row) !== 2) continue;
    const [whole = '', rest = ''] = row.texts;
    if (!/^[-+]?\d+$/.test(whole) || !/^\d{2,}$/.test(rest)) return false;
    lengths.add(rest.length);
  }
  return lengths.size === 1;
}

/**
 * The mark that groups digits in threes, where the sample shows one. A comma or point is sure where a cell has
 * two of them or a decimal mark too; otherwise it is believed where every cell that holds it could be grouped, no
 * other cell of its column has a decimal mark, and those of another column have (or the decimal mark is told).
 */
function groupingOf(
  lines: readonly (readonly string[])[],
  decimal: DecimalMark,
  delimiter: Delimiter,
  decimalIsTold: boolean,
): { thousands: string | null; sure: boolean } {
  const other = decimal === '.' ? ',' : '.';
  const grouped = new Set<number>();
  const decimals = new Set<number>();
  let impossible = 0;
  for (const cells of lines) {
    for (const [column, text] of cells.entries()) {
      if (!beginsLikeNumber(text)) continue;
      const cell = readCell(text, { decimal, thousands: other });
      if (cell.kind === 'number' && cell.grouped !== null) {
        if (cell.grouped.sure) return { thousands: cell.grouped.mark, sure: true };
        grouped.add(column);
      } else if (cell.kind === 'number') {
        if (text.includes(decimal)) decimals.add(column);
      } else if (/^[-+\d.,]+$/.test(text)) impossible++;
    }
  }
  const apart = [...grouped].every((column) => !decimals.has(column));
  const believed = grouped.size > 0 && impossible === 0 && apart && (decimals.size > 0 || decimalIsTold);
  return { thousands: believed && delimiter !== other ? other : null, sure: false };
}

function doubtsOf(
  reading: Reading,
  told: { delimiter?: Delimiter | undefined; decimal?: DecimalMark | undefined },
): DialectDoubt[] {
  const { delimiter, decimal, shape, heading, rows } = reading;
  const doubts: DialectDoubt[] = [];
  if (reading.thousands !== null && !reading.thousandsSure && told.decimal === undefined) {
    doubts.push('thousands beside decimal points');
  }
  const wholeOnly = (row: Row): boolean => row.texts.every((text) => text === '' || /^[-+]?\d+$/.test(text));
  const dataRows = rows.filter((row) => row.cells.length === shape.width && numbersIn(row) > 0);
  if (delimiter === ',' && decimal === '.' && told.delimiter === undefined && dataRows.every(wholeOnly)) {
    if (typeof heading === 'object' && heading.cells > 1 && heading.cells * 2 === shape.width) {
      doubts.push('decimal comma between commas');
    } else if (shape.width === 2 && heading === 'none') doubts.push('two columns or decimal comma');
  }
  if (delimiter === 'none' && decimal === ',' && told.delimiter === undefined && heading === 'none') {
    if (dataRows.every((row) => /^\d+,\d+$/.test(row.texts[0] ?? ''))) {
      doubts.push('two columns or decimal comma');
    }
  }
  const mayMislead = decimal === ',' || delimiter === ';';
  if (told.decimal === undefined && mayMislead && everyNumberCouldBeGrouped(dataRows, decimal)) {
    doubts.push('decimals or thousands');
  }
  return doubts;
}

function everyNumberCouldBeGrouped(rows: readonly Row[], decimal: DecimalMark): boolean {
  const grouped = decimal === ',' ? /^[-+]?[1-9]\d{0,2}(?:,\d{3})+$/ : /^[-+]?[1-9]\d{0,2}(?:\.\d{3})+$/;
  let marked = 0;
  for (const row of rows) {
    for (const text of row.texts) {
      if (!text.includes(decimal) || !beginsLikeNumber(text)) continue;
      if (!grouped.test(text)) return false;
      marked++;
    }
  }
  return marked > 0;
}

/** The decimal mark under which more of a sheet's words are numbers; a point where neither wins. */
export function decimalOfWords(words: readonly string[]): DecimalMark {
  const count = (decimal: DecimalMark): number =>
    words.filter(
      (word) => word.includes(decimal) && readCell(word, { decimal, thousands: null }).kind === 'number',
    ).length;
  return count(',') > count('.') ? ',' : '.';
}
