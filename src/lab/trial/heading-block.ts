import type { Unit } from '../../quantity/index.ts';
import { readUnitText, stripBrackets } from './heading.ts';
import { headingCells, isComment, placedWords } from './heading-cells.ts';
import { isRunLabel, tellRunsApart } from './runs.ts';
import { filledWidth, mostColumns, numbersIn, type Row, type Shape } from './shape.ts';
import type { Layout } from './table-layout.ts';
import type { Delimiter } from './trial-table.ts';

const mostRemarksBelow = 3;

/**
 * Reads the heading that stands directly above the first reading.
 *
 * From below: a row of units, if all its cells are units and a row of names stands above it; the row of names;
 * a second row of names, if the first has gaps or mere brackets that it fills; a row of labels, if its cells
 * are labels of runs or stand where the names begin again. What lies higher is preamble.
 *
 * @param above the rows before the first reading, in the order of the file
 * @param rowsTold how many rows make the heading, where the lab file says so
 */
export function readHeadingBlock(
  above: readonly Row[],
  shape: Shape,
  delimiter: Delimiter | null,
  rowsTold: number | undefined,
): Omit<Layout, 'preambleLines' | 'cellUnits'> {
  const cellsOf = (row: Row | undefined): string[] =>
    row === undefined ? [] : headingCells(row, delimiter, shape.width).slice(0, mostColumns);
  const filled = above.filter((row) => filledWidth(row) > 0 && !isRule(row)).reverse();
  const isHeading = (row: Row): boolean =>
    isUnitRow(cellsOf(row)) || isNameRow(row, cellsOf(row), shape, delimiter);
  // A remark or two may stand between the heading and the first reading; a line with numbers ends the search.
  const nearest = filled
    .slice(0, 1 + mostRemarksBelow)
    .findIndex((row) => numbersIn(row) > 0 || isHeading(row));
  const candidates = rowsTold === undefined ? filled.slice(Math.max(0, nearest)) : filled;
  const used: Row[] = [];
  const limit = rowsTold ?? 4;
  const next = (): Row | undefined => (used.length < limit ? candidates[used.length] : undefined);
  const take = (row: Row): void => {
    used.push(row);
  };

  let unitTexts: string[] = [];
  let unitLine: number | null = null;
  let names: string[] = [];
  let labels: string[] | null = null;
  let labelLine: number | null = null;
  let blockLabel = '';

  const lowest = next();
  const overLowest = used.length + 1 < limit ? candidates[1] : undefined;
  if (
    lowest !== undefined &&
    isUnitRow(cellsOf(lowest)) &&
    isNamesAbove(overLowest, lowest, cellsOf, rowsTold)
  ) {
    unitTexts = cellsOf(lowest);
    unitLine = lowest.line;
    take(lowest);
  }
  const nameRow = next();
  if (
    nameRow !== undefined &&
    (rowsTold !== undefined || isNameRow(nameRow, cellsOf(nameRow), shape, delimiter))
  ) {
    names = cellsOf(nameRow);
    take(nameRow);
    for (let upper = next(); upper !== undefined; upper = next()) {
      const alone = upper.texts.filter((text) => text !== '').join(' ');
      if (isRunLabel(alone)) {
        blockLabel = alone;
        labelLine = upper.line;
        take(upper);
        break;
      }
      const asLabels = labelsIn(upper, names, shape.width, delimiter);
      if (asLabels !== null) {
        labels = asLabels;
        labelLine = upper.line;
        take(upper);
        break;
      }
      const joined = joinRows(upper, nameRow, names, shape.width, delimiter, rowsTold !== undefined);
      if (joined === null) break;
      names = joined;
      take(upper);
    }
  }
  const width = Math.min(mostColumns, Math.max(shape.width, trimmedLength(names)));
  const fill = (cells: readonly string[]): string[] =>
    Array.from({ length: width }, (_, column) => (cells[column] ?? '').replace(/\s+/g, ' ').trim());
  const headings = fill(names);
  return {
    width,
    kinds: Array.from({ length: width }, (_, column) => shape.kinds[column] ?? 'number'),
    headings,
    unitsOfRow: fill(unitTexts).map((text): Unit | null => readUnitText(text)),
    unitTexts: fill(unitTexts).map(stripBrackets),
    side: tellRunsApart(headings, fill(unitTexts), labels),
    blockLabel,
    headingRows: used.reverse(),
    unitLine,
    labelLine,
  };
}

function trimmedLength(cells: readonly string[]): number {
  return cells.findLastIndex((cell) => cell !== '') + 1;
}

/** A line of dashes under the heading, in one piece or one piece a column. */
export function isRule(row: Row): boolean {
  return /^[-=_+|:;,\s]*[-=_]{2}[-=_+|:;,\s]*$/.test(row.text);
}

function isUnitRow(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '');
  const units = filled.filter((cell) => readUnitText(cell) !== null).length;
  return (
    units > 0 && filled.every((cell) => readUnitText(cell) !== null || /^(?:[-–—1]|[([].*[)\]])$/.test(cell))
  );
}

function isNamesAbove(
  upper: Row | undefined,
  unitRow: Row,
  cellsOf: (row: Row | undefined) => string[],
  rowsTold: number | undefined,
): boolean {
  if (upper === undefined) return false;
  if (rowsTold !== undefined) return true;
  const cells = cellsOf(upper);
  const units = cellsOf(unitRow);
  const bracketed = units.some((cell) => /^[([].*[)\]]$/.test(cell));
  const adjoining = unitRow.line - upper.line <= (bracketed ? 3 : 1);
  const named = units.every((unit, column) => unit === '' || (cells[column] ?? '') !== '');
  const keyAndValue = cells.some((cell) => cell.endsWith(':'));
  return adjoining && named && numbersIn(upper) === 0 && !keyAndValue && !cells.every(isRunLabel);
}

function isNameRow(row: Row, cells: readonly string[], shape: Shape, delimiter: Delimiter | null): boolean {
  const filled = cells.filter((cell) => cell !== '').length;
  const words = row.cells.filter((cell) => cell.kind === 'text').length;
  if (words === 0 || numbersIn(row) * 2 >= row.cells.length) return false;
  if (isComment(row.text) && cells.length !== shape.width) return false;
  if (delimiter === 'space' && cells.length !== shape.width) {
    return cells.length < shape.width && filled >= 2 && filled * 2 >= shape.width;
  }
  return shape.width === 1 ? cells.length === 1 : filled >= 2;
}

function labelsIn(
  row: Row,
  names: readonly string[],
  width: number,
  delimiter: Delimiter | null,
): string[] | null {
  const cells = delimiter === 'space' ? row.text.trim().split(/\s{2,}|\t/) : row.texts.slice(0, width);
  const filled = cells.filter((cell) => cell !== '');
  if (filled.length === 0 || isComment(row.text)) return null;
  if (delimiter === 'space') {
    if (!filled.every(isRunLabel) || width % filled.length !== 0) return null;
    const span = width / filled.length;
    return Array.from({ length: width }, (_, column) => filled[Math.floor(column / span)] ?? '');
  }
  if (filled.every(isRunLabel)) return cells;
  const starts = startsOfRepeats(names);
  const different = new Set(filled).size;
  const standAtStarts = cells.every(
    (cell, column) => cell === '' || starts.has(column) || cell === cells[column - 1],
  );
  return starts.size > 1 && different === starts.size && standAtStarts ? cells : null;
}

/** Columns at which the names begin again; blank columns between do not count. */
function startsOfRepeats(names: readonly string[]): Set<number> {
  const first = names.findIndex((name) => name !== '');
  const starts = new Set<number>();
  names.forEach((name, column) => {
    if (first >= 0 && name === names[first]) starts.add(column);
  });
  return starts;
}

function joinRows(
  upper: Row,
  lower: Row,
  names: readonly string[],
  width: number,
  delimiter: Delimiter | null,
  told: boolean,
): string[] | null {
  if (!told && (isComment(upper.text) || numbersIn(upper) > 0 || lower.line - upper.line > 2)) return null;
  const cells = delimiter === 'space' ? placedAbove(upper, lower, width) : upper.texts.slice(0, mostColumns);
  const isGap = (name: string | undefined): boolean =>
    name === undefined || name === '' || /^[([].*[)\]]$/.test(name);
  const fillsGap = cells.some((cell, column) => cell !== '' && isGap(names[column]));
  const mostlyFits = cells.filter((cell) => cell !== '').length >= 2 || delimiter === 'space';
  if (!told && !(fillsGap && mostlyFits)) return null;
  const length = Math.max(cells.length, names.length);
  return Array.from({ length }, (_, column) => `${cells[column] ?? ''} ${names[column] ?? ''}`.trim());
}

function placedAbove(upper: Row, lower: Row, width: number): string[] {
  const below = placedWords(lower.text, width);
  const cells = below.map(() => '');
  for (const word of placedWords(upper.text, width)) {
    let nearest = 0;
    below.forEach((other, column) => {
      const distance = Math.abs(other.middle - word.middle);
      if (distance < Math.abs((below[nearest]?.middle ?? Number.POSITIVE_INFINITY) - word.middle))
        nearest = column;
    });
    cells[nearest] = `${cells[nearest] ?? ''} ${word.text}`.trim();
  }
  return cells;
}
