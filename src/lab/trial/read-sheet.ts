import { fail, nearestName, type Outcome, problem, succeed } from '../../problem/index.ts';
import { assembleTable } from './assemble-table.ts';
import { type Cell, type Marks, readCell } from './cell.ts';
import { type CellUnits, unitsInCells, withoutUnits } from './cell-units.ts';
import { decimalOfWords } from './dialect.ts';
import { findLayout } from './layout.ts';
import { noNumbers } from './read-text.ts';
import { type Row, type Shape, shapeOf } from './shape.ts';
import { readWorkbook, type Workbook } from './sheet.ts';
import type { Sheet, SheetCell } from './sheet-cells.ts';
import { TableBuilder } from './table-builder.ts';
import { listNames, type Told } from './told.ts';
import type { TrialTable } from './trial-table.ts';

/** The names of the sheets of an .xlsx or .ods file, in order. Fails as readTrial does. */
export async function listSheets(
  bytes: Uint8Array,
  options: { readonly file: string },
): Promise<Outcome<string[]>> {
  const workbook = await readWorkbook(bytes, options.file);
  return workbook.ok ? succeed(workbook.value.sheets.map((sheet) => sheet.name)) : workbook;
}

/** Reads one sheet: the one told, else the first that holds a table of numbers. Fails as readTrial says. */
export async function readSheetTable(
  bytes: Uint8Array,
  file: string,
  told: Told,
  signal: { readonly aborted: boolean } | undefined,
): Promise<Outcome<TrialTable>> {
  const workbook = await readWorkbook(bytes, file);
  if (!workbook.ok) return workbook;
  const candidates =
    told.sheet === undefined
      ? succeed([...workbook.value.sheets])
      : chooseSheet(workbook.value, told.sheet, file);
  if (!candidates.ok) return candidates;
  for (const sheet of candidates.value) {
    const cellUnits = unitsInCells(sampledTexts(sheet, told));
    const words = sampledTexts(sheet, told).flatMap((texts) => [...withoutUnits(texts, cellUnits)]);
    const writing: Writing = {
      marks: { decimal: told.decimal ?? decimalOfWords(words), thousands: null },
      cellUnits,
    };
    const shape = shapeOf(Array.from(sampleRows(sheet, told), (index) => toRow(sheet, index, writing)));
    if (shape === null) continue;
    return readRows(sheet, shape, writing, workbook.value);
  }
  return fail(noNumbers(file, told));

  function readRows(sheet: Sheet, shape: Shape, writing: Writing, all: Workbook): Outcome<TrialTable> {
    const found = findLayout(rowsOf(sheet, 0, writing), shape, null, told, writing.cellUnits);
    if (found === null) return fail(noNumbers(file, told));
    const { layout, first } = found;
    const builder = new TableBuilder(layout, null, sheet.rows.length - first.line + 1);
    for (const row of rowsOf(sheet, first.line - 1, writing)) {
      if (row.line > told.lastRow) break;
      if ((row.line & 4095) === 0 && signal?.aborted === true) {
        return fail(problem('interrupted', { file }, 'Reading was interrupted before the end of the sheet.'));
      }
      builder.addRow(row, row.line === first.line);
    }
    const others = all.sheets.filter((other) => other !== sheet).map((other) => other.name);
    return assembleTable({
      bytes,
      file,
      told,
      layout,
      builder,
      marks: writing.marks,
      doubts: [],
      firstLine: first.line,
      notes: [],
      source: {
        container: all.container,
        encoding: null,
        byteOrderMark: false,
        delimiter: null,
        sheet: sheet.name,
        otherSheets: others,
      },
    });
  }
}

function chooseSheet(workbook: Workbook, wanted: string | number, file: string): Outcome<Sheet[]> {
  const names = workbook.sheets.map((sheet) => sheet.name);
  const byName = workbook.sheets.find((sheet) => sheet.name === wanted);
  const byNumber = /^\d+$/.test(String(wanted)) ? workbook.sheets[Number(wanted) - 1] : undefined;
  const sheet = byName ?? byNumber;
  if (sheet !== undefined) return succeed([sheet]);
  const near = nearestName(String(wanted), names);
  const advice = near === undefined ? undefined : `Did you mean "${near}"?`;
  return fail(
    problem(
      'unknown-sheet',
      { file },
      `There is no sheet "${wanted}". There are ${listNames(names)}.`,
      advice,
    ),
  );
}

/** How the numbers among a sheet's words are written. */
interface Writing {
  readonly marks: Marks;
  readonly cellUnits: CellUnits;
}

function sampledTexts(sheet: Sheet, told: Told): string[][] {
  return Array.from(sampleRows(sheet, told), (index) =>
    Array.from(sheet.rows[index] ?? [], (cell) => (typeof cell === 'string' ? cell.trim() : '')),
  );
}

/** Of the rows that may hold the table, the first two hundred and two hundred spread over the rest. */
function* sampleRows(sheet: Sheet, told: Told): Generator<number, void, undefined> {
  const from = (told.firstRow ?? 1) - 1;
  const to = Math.min(sheet.rows.length, told.lastRow);
  const head = Math.min(to, from + 200);
  for (let index = from; index < head; index++) yield index;
  const stride = Math.max(1, Math.floor((to - head) / 200));
  for (let index = head; index < to; index += stride) yield index;
}

function* rowsOf(sheet: Sheet, from: number, writing: Writing): Generator<Row, void, undefined> {
  for (let index = from; index < sheet.rows.length; index++) yield toRow(sheet, index, writing);
}

function toRow(sheet: Sheet, index: number, writing: Writing): Row {
  const written = sheet.rows[index] ?? [];
  const texts = withoutUnits(written.map(textOf), writing.cellUnits);
  const cells = written.map((cell, column): Cell => cellOf(cell, texts[column] ?? '', writing.marks));
  return { line: index + 1, texts, cells, text: texts.join('\t') };
}

function textOf(cell: SheetCell): string {
  if (cell === null) return '';
  if (typeof cell === 'object') return `${cell.seconds} s`;
  return String(cell).trim();
}

function cellOf(cell: SheetCell, text: string, marks: Marks): Cell {
  if (typeof cell === 'number') return { kind: 'number', value: cell, grouped: null };
  if (cell === null || typeof cell === 'string') return readCell(text, marks);
  if (!cell.dated) return { kind: 'clock', seconds: cell.seconds, twoPart: false, day: null };
  const day = Math.floor(cell.seconds / 86_400);
  // Milliseconds are all that a date of the file keeps; the day is taken off in whole numbers.
  const seconds = Math.round((cell.seconds - day * 86_400) * 1000) / 1000;
  return { kind: 'clock', seconds, twoPart: false, day: { day, other: null } };
}
