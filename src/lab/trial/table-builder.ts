import { beginsLikeNumber, type Cell } from './cell.ts';
import { daysSince } from './dates.ts';
import { isComment } from './heading-cells.ts';
import { type Block, growBlock, newBlock, type RawColumn } from './raw-table.ts';
import { isRunLabel } from './runs.ts';
import { isNumeric, isOpen, type Row } from './shape.ts';
import type { Layout } from './table-layout.ts';
import type { Delimiter } from './trial-table.ts';

/** A line that was kept out, and why the reader of the table may want to know. */
export interface Remark {
  readonly line: number;
  readonly text: string;
}

export interface Tally {
  blankLines: number;
  commentLines: number;
  remarkLines: number;
  readonly remarks: Remark[];
  shortLines: number;
  firstShort: number;
  longLines: number;
  firstLong: number;
  /** Line where, below a blank line, the first column starts again; 0 for none. */
  restart: number;
  /** Line from which on further runs are not read; 0 for none. */
  runsLeftOut: number;
  /** Line of the heading of another table below, which is not read; 0 for none. */
  otherTable: number;
}

type Judgement = 'reading' | 'short' | 'remark' | 'heading' | 'label' | 'other table';

const mostKept = 20;
/** Most runs one below another. */
export const mostBlocks = 1000;

/**
 * Takes the lines of a table one by one and decides what each is: a reading, a remark among the readings, the
 * heading or the label of a further run, a comment, or the heading of another table.
 */
export class TableBuilder {
  readonly tally: Tally = {
    blankLines: 0,
    commentLines: 0,
    remarkLines: 0,
    remarks: [],
    shortLines: 0,
    firstShort: 0,
    longLines: 0,
    firstLong: 0,
    restart: 0,
    runsLeftOut: 0,
    otherTable: 0,
  };
  readonly blocks: Block[] = [];
  block: Block;
  private readonly layout: Layout;
  private readonly delimiter: Delimiter | null;
  private readonly isRead: readonly boolean[];
  private readonly headingKeys: ReadonlySet<string>;
  private afterBlank = false;
  private skipping = false;

  /**
   * @param delimiter null for a sheet
   * @param rows how many readings to make room for
   */
  constructor(layout: Layout, delimiter: Delimiter | null, rows: number) {
    this.layout = layout;
    this.delimiter = delimiter;
    this.isRead = layout.kinds.map((kind) => kind !== 'text');
    this.headingKeys = new Set(layout.headingRows.map(keyOf).filter((key) => key !== ''));
    this.block = newBlock(this.isRead, rows, layout.blockLabel);
    this.blocks.push(this.block);
  }

  /** Whether the rows that follow belong to another table. */
  get isSkipping(): boolean {
    return this.skipping;
  }

  /** Takes one row; `firstReading` says that it is known to be a reading. */
  addRow(row: Row, firstReading = false): void {
    const { cells } = row;
    if (cells.every((cell) => cell.kind === 'blank')) {
      this.tally.blankLines++;
      this.afterBlank = true;
      return;
    }
    const afterBlank = this.afterBlank;
    this.afterBlank = false;
    if (isComment(row.text) && !this.headingKeys.has(keyOf(row))) {
      this.tally.commentLines++;
      return;
    }
    const judged = firstReading ? 'reading' : this.judge(row, afterBlank);
    if (judged === 'heading') this.startBlock(row.line, null);
    else if (judged === 'label') this.startBlock(row.line, textOf(row));
    else if (judged === 'other table') {
      this.skipping = true;
      this.tally.otherTable ||= row.line;
    } else if (this.skipping) return;
    else if (judged === 'remark') this.keepRemark(row.line, textOf(row));
    else if (judged === 'short') this.countShort(row.line);
    else {
      this.store(row);
      if (afterBlank && this.tally.restart === 0 && this.restartsHere()) this.tally.restart = row.line;
    }
  }

  /** The last reading lies where the first one lay, though the one before had gone far from it. */
  private restartsHere(): boolean {
    const values = this.block.columns[this.layout.kinds.indexOf('number')]?.values;
    const last = this.block.length - 1;
    if (values === undefined || last < 2) return false;
    const run = values[last - 1] - values[0];
    return run > 0 && values[last] - values[0] < 0.25 * run;
  }

  private startBlock(line: number, label: string | null): void {
    this.skipping = false;
    if (this.block.length === 0) {
      if (label === null) return;
      this.block = { ...this.block, label };
      this.blocks[this.blocks.length - 1] = this.block;
    } else if (this.blocks.length < mostBlocks) {
      this.block = newBlock(this.isRead, 0, label ?? '');
      this.blocks.push(this.block);
    } else {
      this.tally.runsLeftOut ||= line;
      this.skipping = true;
    }
  }

  private keepRemark(line: number, text: string): void {
    this.tally.remarkLines++;
    if (this.tally.remarks.length < mostKept) this.tally.remarks.push({ line, text: shorten(text) });
  }

  private judge(row: Row, afterBlank: boolean): Judgement {
    const { cells, texts } = row;
    const { kinds, width } = this.layout;
    let numbers = 0;
    let texty = 0;
    let numberLike = 0;
    for (let column = 0; column < cells.length; column++) {
      const cell = cells[column];
      if (kinds[column] === 'text' || column >= width) continue;
      if (isNumeric(cell)) numbers++;
      else if (!isOpen(cell)) {
        texty++;
        if (beginsLikeNumber(texts[column] ?? '')) numberLike++;
      }
    }
    if (numbers > 0 && this.lacksPlace(cells.length))
      return texty > 0 && numberLike === 0 ? 'remark' : 'short';
    if (texty === 0)
      return numbers > 0 || cells.some((cell) => cell.kind !== 'blank' && isOpen(cell))
        ? 'reading'
        : 'remark';
    if (isRunLabel(textOf(row))) return 'label';
    if (this.headingKeys.has(keyOf(row))) return 'heading';
    if (numbers > 0) {
      if (
        numbers + numberLike >= texty - numberLike &&
        (cells.length === width || this.delimiter !== 'space')
      )
        return 'reading';
      return numberLike > 0 ? 'reading' : 'remark';
    }
    if (numberLike > 0) return 'reading';
    const filled = texts.filter((text) => text !== '');
    const asWide = filled.length >= 2 && this.delimiter !== 'space' && cells.length >= width;
    if (asWide && afterBlank) return 'other table';
    return asWide && filled.length * 2 >= width ? 'reading' : 'remark';
  }

  /**
   * Between blanks a missing cell leaves no trace: which one it is can be told only where whole runs are missing
   * at the end of the line.
   */
  private lacksPlace(cells: number): boolean {
    const { width, side } = this.layout;
    return (
      this.delimiter === 'space' && cells < width && (side.runs === 1 || cells % (width / side.runs) !== 0)
    );
  }

  private countShort(line: number): void {
    this.tally.shortLines++;
    this.tally.firstShort ||= line;
  }

  private store(row: Row): void {
    if (this.block.length >= this.block.lines.length) growBlock(this.block);
    const { cells, texts, line } = row;
    const at = this.block.length++;
    this.block.lines[at] = line;
    const { width } = this.layout;
    for (let column = 0; column < width; column++) {
      const raw = this.block.columns[column];
      if (raw === undefined) continue;
      const text = texts[column] ?? '';
      if (this.isRead[column] !== true) keepExample(raw, text);
      else raw.values[at] = storeCell(raw, cells[column], text, at);
    }
    if (cells.length < width) this.countShort(line);
    else if (cells.length > width) this.storeBeyond(row);
  }

  private storeBeyond(row: Row): void {
    const { width } = this.layout;
    const beyond = row.texts.slice(width).filter((text) => text !== '');
    if (beyond.length === 0) return;
    if (row.cells.slice(width).some(isNumeric)) {
      this.tally.longLines++;
      this.tally.firstLong ||= row.line;
    } else this.keepRemark(row.line, beyond.join(' '));
  }
}

function textOf(row: Row): string {
  return row.texts.filter((text) => text !== '').join(' ');
}

function keyOf(row: Row): string {
  return row.texts
    .join('\t')
    .replace(/^\s*[#%!/]+\s*/, '')
    .trim()
    .toLowerCase();
}

function keepExample(raw: RawColumn, text: string): void {
  if (raw.examples.length < 3 && text !== '' && !raw.examples.includes(shorten(text)))
    raw.examples.push(shorten(text));
}

/** A cell as it is quoted to a reader. */
function shorten(text: string): string {
  const clean = text.replace(/\s+/g, ' ').replace(/\p{Cc}/gu, '\ufffd');
  return clean.length > 60 ? `${clean.slice(0, 57)}…` : clean;
}

function storeCell(raw: RawColumn, cell: Cell | undefined, text: string, row: number): number {
  if (cell === undefined || cell.kind === 'blank' || cell.kind === 'marker') return Number.NaN;
  if (cell.kind === 'overload') {
    raw.overloads++;
    return Number.NaN;
  }
  if (cell.kind === 'text' || (raw.kind !== null && raw.kind !== cell.kind)) {
    raw.badCount++;
    if (raw.bad.length < mostKept) raw.bad.push({ row, text: shorten(text) });
    return Number.NaN;
  }
  raw.kind = cell.kind;
  if (cell.kind === 'number') return cell.value;
  if (cell.twoPart) {
    raw.twoPart.push(row);
    raw.largestFirstPart = Math.max(raw.largestFirstPart, Math.floor(cell.seconds / 3600));
  } else raw.threePart = true;
  if (cell.day === null) return cell.seconds;
  raw.firstDay ??= cell.day;
  const { days, doubtful } = daysSince(raw.firstDay, cell.day);
  if (doubtful) raw.doubtfulDate = true;
  return days * 86_400 + cell.seconds;
}
