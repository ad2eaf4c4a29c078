import { readXlsx } from 'hucre/xlsx';
import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { readOpenDocument } from './open-document.ts';
import type { Sheet, SheetCell } from './sheet-cells.ts';
import { readZipDirectory } from './zip-directory.ts';

export interface Workbook {
  readonly container: 'xlsx' | 'ods';
  readonly sheets: readonly Sheet[];
}

/**
 * Reads all sheets of an .xlsx or .ods file. Formulas stand for the values they last had; a text in merged cells
 * stands in each cell of the row that it spans.
 *
 * Fails where the archive is damaged, locked, larger than is safe, or no spreadsheet.
 */
export async function readWorkbook(bytes: Uint8Array, file: string): Promise<Outcome<Workbook>> {
  const directory = readZipDirectory(bytes, file);
  if (!directory.ok) return directory;
  if (directory.value.has('content.xml')) {
    const sheets = await readOpenDocument(bytes, directory.value, file);
    return sheets.ok ? succeed({ container: 'ods', sheets: sheets.value }) : sheets;
  }
  if (!directory.value.has('[Content_Types].xml')) {
    const message =
      'This is a zip archive, but no spreadsheet. Unpack it and name the file with the readings.';
    return fail(problem('not-a-table', { file }, message));
  }
  try {
    const workbook = await readXlsx(bytes);
    return succeed({ container: 'xlsx', sheets: workbook.sheets.map(toSheet) });
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message.split('\n')[0] : 'for a reason not given';
    const message = `The workbook is damaged or no spreadsheet (${reason}). Open it, save it again as .xlsx, or export it as .csv.`;
    return fail(problem('broken-archive', { file }, message));
  }
}

type XlsxSheet = Awaited<ReturnType<typeof readXlsx>>['sheets'][number];

function toSheet(sheet: XlsxSheet): Sheet {
  const rows: SheetCell[][] = sheet.rows.map((row) =>
    Array.from(row, (value): SheetCell => {
      if (value === null || value === undefined) return null;
      if (typeof value === 'number' || typeof value === 'string') return value;
      if (typeof value === 'boolean') return value ? 'true' : 'false';
      return { seconds: value.getTime() / 1000, dated: true };
    }),
  );
  for (const { startRow, startCol, endCol } of sheet.merges ?? []) {
    const row = rows[startRow];
    const value = row?.[startCol];
    if (row === undefined || typeof value !== 'string') continue;
    for (let column = startCol + 1; column <= Math.min(endCol, startCol + 256); column++) row[column] = value;
  }
  return { name: sheet.name, rows };
}
