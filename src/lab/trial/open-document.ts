import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import type { Sheet, SheetCell } from './sheet-cells.ts';
import { walkXml, type XmlListener } from './xml-tokens.ts';
import { unpackEntry, type ZipEntry } from './zip-directory.ts';

/** Cells that the repeats of a document may add up to; a sheet of a million rows and five columns has as many. */
const mostCells = 6_000_000;
const mostRepeats = 16_384;

/**
 * Reads the sheets of an OpenDocument spreadsheet (OASIS OpenDocument 1.3, part 3, section 9).
 *
 * Repeated rows and cells are written once in such a file; they are multiplied here under a bound, because a
 * file of a few hundred bytes may ask for a thousand million of them. Blank rows at the end are dropped.
 */
export async function readOpenDocument(
  bytes: Uint8Array,
  directory: ReadonlyMap<string, ZipEntry>,
  file: string,
): Promise<Outcome<Sheet[]>> {
  const damaged = fail(
    problem(
      'broken-archive',
      { file },
      'The spreadsheet is damaged. Open it, save it again, or export it as .csv.',
    ),
  );
  const entry = directory.get('content.xml');
  const content = entry === undefined ? null : await unpackEntry(bytes, entry);
  if (content === null) return damaged;
  const builder = new DocumentBuilder();
  try {
    if (!walkXml(new TextDecoder().decode(content), builder)) return damaged;
  } catch (cause) {
    if (!(cause instanceof TooManyCells)) return damaged;
    const message = `The spreadsheet asks for more than ${mostCells} cells. Save the sheet with the readings alone, or export it as .csv.`;
    return fail(problem('archive-too-large', { file }, message));
  }
  return builder.sheets.length === 0
    ? fail(
        problem(
          'not-a-table',
          { file },
          'This OpenDocument file holds no sheet. Save the readings as .ods or .csv.',
        ),
      )
    : succeed(builder.sheets);
}

class TooManyCells extends Error {}

class DocumentBuilder implements XmlListener {
  readonly sheets: { readonly name: string; readonly rows: SheetCell[][] }[] = [];
  private rows: SheetCell[][] = [];
  private row: SheetCell[] = [];
  private rowRepeat = 1;
  private blankRows = 0;
  private cell: { attributes: Readonly<Record<string, string>>; text: string } | null = null;
  private paragraph = false;
  private depthOfNote = 0;
  private total = 0;
  private inTable = 0;

  open(tag: string, attributes: Readonly<Record<string, string>>): void {
    if (tag === 'annotation') this.depthOfNote++;
    else if (tag === 'table' && this.inTable++ === 0) {
      this.rows = [];
      this.blankRows = 0;
      this.sheets.push({
        name: attributes['table:name'] ?? `Sheet ${this.sheets.length + 1}`,
        rows: this.rows,
      });
    } else if (tag === 'table-row') {
      this.row = [];
      this.rowRepeat = repeatOf(attributes['table:number-rows-repeated'], 1_048_576);
    } else if (tag === 'table-cell' || tag === 'covered-table-cell') this.cell = { attributes, text: '' };
    else if (this.cell !== null && this.depthOfNote === 0) {
      if (tag === 'p') {
        if (this.cell.text !== '') this.cell.text += ' ';
        this.paragraph = true;
      } else if (this.paragraph && (tag === 's' || tag === 'tab' || tag === 'line-break'))
        this.cell.text += ' ';
    }
  }

  text(text: string): void {
    if (this.cell !== null && this.paragraph && this.depthOfNote === 0) this.cell.text += text;
  }

  close(tag: string): void {
    if (tag === 'annotation') this.depthOfNote = Math.max(0, this.depthOfNote - 1);
    else if (tag === 'p') this.paragraph = false;
    else if (tag === 'table-cell' || tag === 'covered-table-cell') this.endCell();
    else if (tag === 'table-row') this.endRow();
    else if (tag === 'table') this.inTable = Math.max(0, this.inTable - 1);
  }

  private endCell(): void {
    if (this.cell === null) return;
    const { attributes, text } = this.cell;
    const value = cellValue(attributes, text);
    const spanned = typeof value === 'string' ? repeatOf(attributes['table:number-columns-spanned'], 256) : 1;
    const repeat = repeatOf(attributes['table:number-columns-repeated'], mostRepeats);
    // The cells that a merged text covers follow as covered cells of their own: they take its text.
    const covered = value === null && this.spanLeft > 0 && this.spanText !== null;
    this.spend(repeat);
    for (let index = 0; index < repeat; index++) {
      const fromSpan = covered && this.spanLeft > 0;
      this.row.push(fromSpan ? this.spanText : value);
      if (fromSpan) this.spanLeft--;
    }
    if (value !== null) {
      this.spanText = typeof value === 'string' ? value : null;
      this.spanLeft = spanned - 1;
    }
    this.cell = null;
    this.paragraph = false;
  }

  private spanText: string | null = null;
  private spanLeft = 0;

  private endRow(): void {
    let width = this.row.length;
    while (width > 0 && this.row[width - 1] === null) width--;
    this.total -= this.row.length - width;
    this.row.length = width;
    this.spanLeft = 0;
    if (width === 0) {
      this.blankRows += this.rowRepeat;
      return;
    }
    this.spend(this.blankRows + width * (this.rowRepeat - 1));
    for (; this.blankRows > 0; this.blankRows--) this.rows.push([]);
    for (let index = 0; index < this.rowRepeat; index++) this.rows.push(this.row);
  }

  private spend(cells: number): void {
    this.total += cells;
    if (this.total > mostCells) throw new TooManyCells();
  }
}

function repeatOf(text: string | undefined, most: number): number {
  const repeat = Number(text ?? 1);
  return Number.isFinite(repeat) && repeat >= 1 ? Math.min(Math.trunc(repeat), most) : 1;
}

function cellValue(attributes: Readonly<Record<string, string>>, text: string): SheetCell {
  const type = attributes['office:value-type'] ?? attributes['calcext:value-type'];
  switch (type) {
    case 'float':
    case 'currency':
    case 'percentage': {
      const value = Number(attributes['office:value'] ?? Number.NaN);
      return Number.isNaN(value) ? text : value;
    }
    case 'time': {
      const seconds = durationSeconds(attributes['office:time-value'] ?? '');
      return seconds === null ? text : { seconds, dated: false };
    }
    case 'date':
      return attributes['office:date-value'] ?? text;
    default:
      return text === '' ? null : text;
  }
}

/** 'PT12H30M05.5S' (XML Schema duration without years and months) in seconds. */
function durationSeconds(text: string): number | null {
  const parts = /^(-)?P(?:(\d+)D)?T?(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:[.,]\d+)?)S)?$/.exec(text);
  if (parts === null) return null;
  const [, sign, days = '0', hours = '0', minutes = '0', seconds = '0'] = parts;
  const [whole = '0', fraction = '0'] = seconds.split(/[.,]/);
  const total = Number(days) * 86_400 + Number(hours) * 3600 + Number(minutes) * 60 + Number(whole);
  return (sign === undefined ? 1 : -1) * Number(`${total}.${fraction}`);
}
