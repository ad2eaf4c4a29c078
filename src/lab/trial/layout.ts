import { beginsLikeNumber } from './cell.ts';
import type { CellUnits } from './cell-units.ts';
import { splitHeading } from './heading.ts';
import { isRule, readHeadingBlock } from './heading-block.ts';
import { headingCells, isComment } from './heading-cells.ts';
import { filledWidth, isNumeric, isOpen, numbersIn, type Row, type Shape } from './shape.ts';
import type { Layout } from './table-layout.ts';
import type { Delimiter } from './trial-table.ts';

export interface ToldLayout {
  readonly headerRows?: number | undefined;
  readonly firstRow?: number | undefined;
}

/** Rows above the first reading that are kept for the heading; more are only counted. */
const mostRowsAbove = 60;

/**
 * Finds the first reading and reads the heading above it.
 *
 * The first reading is the first row with the shape's width in which every number column holds a number or is
 * open; rows above it count as readings too while all that spoils them begins like a number ('3,41s').
 * A numeric line shortly above the heading does not count.
 *
 * @returns null where no such row exists
 */
export function findLayout<R extends Row>(
  rows: Iterable<R>,
  shape: Shape,
  delimiter: Delimiter | null,
  told: ToldLayout,
  cellUnits: CellUnits,
): { layout: Layout; first: R } | null {
  let above: R[] = [];
  let filledAbove = 0;
  let waiting: R[] = [];
  let first: R | null = null;
  for (const row of rows) {
    if (isFilled(row)) filledAbove++;
    if (told.firstRow !== undefined) {
      if (row.line >= told.firstRow && isFilled(row)) {
        first = row;
        break;
      }
    } else if (waiting.length > 0) {
      if (waiting.length < 4 && isHeadingLike(row, shape, delimiter)) {
        above = [...above, ...waiting, row];
        waiting = [];
        continue;
      }
      waiting.push(row);
      if (waiting.length >= 4) break;
      continue;
    } else if (isFirstReading(row, shape)) {
      waiting = [row];
      if (above.some((earlier) => isHeadingLike(earlier, shape, delimiter))) break;
      continue;
    }
    above.push(row);
    if (above.length > mostRowsAbove) above = above.slice(-mostRowsAbove / 2);
  }
  first ??= waiting[0] ?? null;
  if (first === null) return null;
  filledAbove -= told.firstRow === undefined ? waiting.filter(isFilled).length : 1;
  if (told.firstRow === undefined) {
    while (endsInSpoiltReading(above, shape, delimiter)) {
      first = above.pop() ?? first;
      filledAbove--;
    }
  }
  const block = readHeadingBlock(above, shape, delimiter, told.headerRows);
  const preambleLines = Math.max(0, filledAbove - block.headingRows.length);
  return { layout: { ...block, cellUnits, preambleLines }, first };
}

function isFilled(row: Row): boolean {
  return filledWidth(row) > 0 && !isRule(row);
}

function isFirstReading(row: Row, shape: Shape): boolean {
  if (row.cells.length < shape.width || isComment(row.text)) return false;
  let numbers = 0;
  for (let column = 0; column < row.cells.length; column++) {
    const cell = row.cells[column];
    const kind = shape.kinds[column] ?? 'number';
    if (isNumeric(cell)) numbers++;
    else if (kind === 'number' && column < shape.width && !isOpen(cell)) return false;
  }
  return numbers > 0;
}

/**
 * Whether the last of the rows above is a reading with cells that are no numbers: all of these begin like a
 * number, or the row begins with a number, or units stand in the heading above it.
 */
function endsInSpoiltReading(above: readonly Row[], shape: Shape, delimiter: Delimiter | null): boolean {
  const row = above.at(-1);
  if (row === undefined || row.cells.length !== shape.width || numbersIn(row) === 0) return false;
  if (isComment(row.text)) return false;
  const spoilt = row.texts.filter(
    (_, column) => shape.kinds[column] === 'number' && row.cells[column]?.kind === 'text',
  );
  if (spoilt.every(beginsLikeNumber)) return true;
  const heading = above.slice(0, -1).findLast(isFilled);
  if (heading === undefined || !isHeadingLike(heading, shape, delimiter)) return false;
  const beginsWithNumber = isNumeric(row.cells[shape.kinds.indexOf('number')]);
  return beginsWithNumber || heading.texts.some((text) => splitHeading(text).unit !== null);
}

function isHeadingLike(row: Row, shape: Shape, delimiter: Delimiter | null): boolean {
  if (numbersIn(row) > 0 || !row.cells.some((cell) => cell.kind === 'text')) return false;
  const cells = headingCells(row, delimiter, shape.width).length;
  return (
    cells >= Math.max(1, shape.kinds.filter((kind) => kind !== 'blank').length - 1) && cells <= shape.width
  );
}
