import { type Problem, problem } from '../../problem/index.ts';
import { parseUnit, type Unit } from '../../quantity/index.ts';
import { readUnitText, splitHeading } from './heading.ts';
import type { Block, RawColumn } from './raw-table.ts';
import type { Layout } from './table-layout.ts';
import type { DecimalMark, TableColumn, TextColumn } from './trial-table.ts';

/** What a two-part clock time means: told by the lab file or the heading, shown by the column, or assumed. */
export interface ClockFinding {
  readonly heading: string;
  readonly line: number;
  readonly twoPart: 'mm:ss' | 'hh:mm' | null;
  readonly assumed: boolean;
  readonly midnights: number;
  readonly doubtfulDate: boolean;
}

export interface FinishedColumns {
  readonly columns: readonly TableColumn[];
  readonly textColumns: readonly TextColumn[];
  readonly blankColumns: number;
  readonly clocks: readonly ClockFinding[];
  /** Headings with a unit that is not known here, and that unit. */
  readonly unknownUnits: readonly { readonly heading: string; readonly unit: string }[];
  /** Per run, how many readings, and the block that holds them. */
  readonly runs: readonly { readonly rows: number; readonly block: Block }[];
}

/** A unit for a column, or how its two-part clock times are meant. */
export type ToldUnit = Unit | 'mm:ss' | 'hh:mm';

/**
 * Turns what was read into columns of runs: each block of lines holds the runs that stand side by side in it.
 *
 * A column with more words than numbers is a column of words; one without any number is blank. The columns of a
 * run end at its last reading, so a run that is shorter than its neighbour has shorter columns.
 *
 * @param toldUnits by column of the file, from 0
 */
export function finishColumns(
  blocks: readonly Block[],
  layout: Layout,
  toldUnits: ReadonlyMap<number, ToldUnit>,
  place: { readonly file: string; readonly decimal: DecimalMark },
): FinishedColumns {
  const { side, width } = layout;
  const parts = Array.from({ length: width }, (_, column) => namePart(layout, column));
  const isShared = (column: number): boolean =>
    side.runs > 1 &&
    parts[column]?.numbered === false &&
    side.bare.filter((text) => text === side.bare[column]).length === 1;
  const columns: TableColumn[] = [];
  const textColumns: TextColumn[] = [];
  const clocks: ClockFinding[] = [];
  const runs: { rows: number; block: Block }[] = [];
  const blank = new Set<number>(Array.from({ length: width }, (_, column) => column));
  const unknown = new Map<string, string>();
  blocks.forEach((block, blockIndex) => {
    const kept = block.columns.map((raw) => keepAs(raw, block.length));
    const anyShared = kept.some((as, column) => as === 'numbers' && isShared(column));
    const lengths = Array.from({ length: side.runs }, (_, run) => {
      const own = kept.flatMap((as, column) =>
        as === 'numbers' && side.run[column] === run + 1 ? [column] : [],
      );
      return anyShared || side.runs === 1 ? block.length : lastReading(block, own);
    });
    for (const rows of lengths) runs.push({ rows, block });
    block.columns.forEach((raw, column) => {
      const as = kept[column];
      const part = parts[column];
      if (as === undefined || part === undefined || as === 'blank') return;
      blank.delete(column);
      const run = blockIndex * side.runs + (side.run[column] ?? 1);
      if (as === 'words') {
        const examples =
          raw.examples.length > 0 ? raw.examples : raw.bad.slice(0, 3).map((cell) => cell.text);
        textColumns.push({
          heading: part.heading,
          run,
          position: column + 1,
          examples: [...new Set(examples)],
        });
        return;
      }
      const rows = lengths[(side.run[column] ?? 1) - 1] ?? block.length;
      const told = toldUnits.get(column);
      let unit = typeof told === 'object' ? told : part.unit;
      if (raw.kind === 'clock') {
        clocks.push(settleClock(raw, block, part.heading, typeof told === 'string' ? told : null, rows));
        unit = secondUnit() ?? unit;
      } else if (unit === null && part.unknownUnit !== null) unknown.set(part.heading, part.unknownUnit);
      columns.push(asColumn(raw, block, rows, { ...part, unit, run, position: column + 1 }, place));
    });
  });
  return {
    columns,
    textColumns,
    blankColumns: blank.size,
    clocks,
    unknownUnits: Array.from(unknown, ([heading, unit]) => ({ heading, unit })),
    runs,
  };
}

interface NamePart {
  readonly heading: string;
  readonly name: string;
  readonly unit: Unit | null;
  readonly unknownUnit: string | null;
  readonly numbered: boolean;
}

function namePart(layout: Layout, column: number): NamePart {
  const written = layout.headings[column] ?? '';
  const heading = written === '' ? `column ${column + 1}` : written;
  const bare = layout.side.bare[column] ?? '';
  const split = splitHeading(bare === '' ? heading : bare);
  const rowUnit = layout.unitsOfRow[column] ?? null;
  const inCells = layout.cellUnits.get(column);
  const cellUnit = inCells === undefined ? null : readUnitText(inCells);
  const rowText = layout.unitTexts[column] ?? '';
  const unknownOfRow = rowUnit === null && /^[^\d\s–-]/.test(rowText) ? rowText : null;
  return {
    heading,
    name: split.name,
    unit: cellUnit ?? rowUnit ?? split.unit,
    unknownUnit: unknownOfRow ?? split.unknownUnit,
    numbered: bare !== written,
  };
}

function keepAs(raw: RawColumn, rows: number): 'numbers' | 'words' | 'blank' {
  if (raw.values.length === 0) return 'words';
  let numbers = 0;
  for (let row = 0; row < rows; row++) if (!Number.isNaN(raw.values[row])) numbers++;
  if (raw.badCount > numbers) return 'words';
  return numbers > 0 || raw.overloads > 0 ? 'numbers' : 'blank';
}

function lastReading(block: Block, columns: readonly number[]): number {
  for (let row = block.length - 1; row >= 0; row--) {
    for (const column of columns) {
      const raw = block.columns[column];
      if (raw === undefined) continue;
      if (!Number.isNaN(raw.values[row]) || raw.bad.some((cell) => cell.row === row)) return row + 1;
    }
  }
  return 0;
}

function secondUnit(): Unit | null {
  const second = parseUnit('s');
  return second.ok ? second.value : null;
}

function settleClock(
  raw: RawColumn,
  block: Block,
  heading: string,
  told: 'mm:ss' | 'hh:mm' | null,
  rows: number,
): ClockFinding {
  const named =
    /m{1,2}:s/i.test(heading) && !/h:m/i.test(heading) ? 'mm:ss' : /h{1,2}:m/i.test(heading) ? 'hh:mm' : null;
  const shown = raw.threePart || raw.largestFirstPart > 23 ? 'mm:ss' : null;
  const meaning = raw.twoPart.length === 0 ? null : (told ?? named ?? shown ?? 'hh:mm');
  if (meaning === 'mm:ss') for (const row of raw.twoPart) raw.values[row] /= 60;
  let midnights = 0;
  if (raw.firstDay === null) {
    let previous = Number.NaN;
    for (let row = 0; row < rows; row++) {
      const value = raw.values[row] + midnights * 86_400;
      if (value < previous - 43_200) midnights++;
      raw.values[row] += midnights * 86_400;
      if (!Number.isNaN(value)) previous = raw.values[row];
    }
  }
  return {
    heading,
    line: block.lines[raw.twoPart[0] ?? 0],
    twoPart: meaning,
    assumed: meaning !== null && (told ?? named ?? shown) === null,
    midnights,
    doubtfulDate: raw.doubtfulDate,
  };
}

function asColumn(
  raw: RawColumn,
  block: Block,
  rows: number,
  part: NamePart & { readonly run: number; readonly position: number },
  place: { readonly file: string; readonly decimal: DecimalMark },
): TableColumn {
  const values = raw.values.length > 1.25 * rows ? raw.values.slice(0, rows) : raw.values.subarray(0, rows);
  let missing = 0;
  for (let row = 0; row < rows; row++) if (Number.isNaN(values[row])) missing++;
  const { heading, name, unit, run, position } = part;
  const mark = place.decimal === ',' ? 'decimal comma' : 'decimal point';
  const first: Problem[] = raw.bad.map(({ row, text }) =>
    problem(
      'not-a-number',
      { file: place.file, line: block.lines[row] },
      `"${text}" is not a number in column "${heading}". The column was read with ${mark}.`,
    ),
  );
  const blanks = Math.max(0, missing - raw.overloads - raw.badCount);
  return {
    name,
    heading,
    unit,
    values,
    run,
    position,
    blanks,
    overloads: raw.overloads,
    notNumbers: { count: raw.badCount, first },
  };
}
