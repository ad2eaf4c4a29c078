import { fail, type Outcome, type Problem, problem, succeed, warning } from '../../problem/index.ts';
import type { Marks } from './cell.ts';
import type { DialectDoubt } from './dialect.ts';
import { finishColumns } from './finish-columns.ts';
import { boundNotes, columnNotes, doubtNotes, lineNotes, stampNotes } from './notes.ts';
import { sha256 } from './sha256.ts';
import type { TableBuilder } from './table-builder.ts';
import type { Layout } from './table-layout.ts';
import { type Told, toldUnits } from './told.ts';
import type { Recognition, TrialTable } from './trial-table.ts';

/** All that is known once the last line has been read. */
export interface ReadTable {
  readonly bytes: Uint8Array;
  readonly file: string;
  readonly told: Told;
  readonly layout: Layout;
  readonly builder: TableBuilder;
  readonly marks: Marks;
  readonly doubts: readonly DialectDoubt[];
  readonly firstLine: number;
  readonly notes: readonly Problem[];
  readonly source: Pick<
    Recognition,
    'container' | 'encoding' | 'byteOrderMark' | 'delimiter' | 'sheet' | 'otherSheets'
  >;
}

/** Makes the table: columns by run, what was recognised, and the notes. */
export function assembleTable(read: ReadTable): Outcome<TrialTable> {
  const { file, told, layout, builder, marks } = read;
  const doubts = doubtNotes(read.doubts, marks.decimal, file);
  const hopeless = doubts.find((note) => note.code === 'decimal-comma-between-commas');
  if (hopeless !== undefined) return fail({ ...hopeless, severity: 'error' });
  const units = toldUnits(told, layout, file);
  if (!units.ok) return units;
  const finished = finishColumns(builder.blocks, layout, units.value, { file, decimal: marks.decimal });
  if (finished.columns.length === 0) {
    const message = 'No column of numbers was found: in each there are more words than numbers.';
    return fail(problem('no-readings', { file, line: read.firstLine }, message));
  }
  const rowNumbers = (i: number, run = 1): number => finished.runs[run - 1]?.block.lines[i] ?? Number.NaN;
  const { notes: aboutStamps, stamps } = stampNotes(finished, file, rowNumbers);
  const { tally, blocks } = builder;
  const noHeading = layout.headings.every((heading) => heading === '');
  const missingHeading = noHeading
    ? [
        warning(
          'no-heading',
          { file, line: read.firstLine },
          'The columns have no headings; they are called "column 1", "column 2" ….',
        ),
      ]
    : [];
  const recognised: Recognition = {
    ...read.source,
    decimalMark: marks.decimal,
    thousandsMark: marks.thousands,
    preambleLines: layout.preambleLines,
    headingLines: layout.headingRows.map((row) => row.line),
    unitLine: layout.unitLine,
    labelLine: layout.labelLine,
    firstLine: read.firstLine,
    runs: finished.runs.length,
    runsSideBySide: layout.side.runs,
    runsSideBySideBy: layout.side.by,
    runsStacked: blocks.length,
    runLabels: blocks.flatMap((block) =>
      layout.side.labels.map((label) => [block.label, label].filter((text) => text !== '').join(', ')),
    ),
    textColumns: finished.textColumns,
    blankColumns: finished.blankColumns,
    clockColumns: [...new Set(finished.clocks.map((clock) => clock.heading))],
    cellUnitColumns: [...layout.cellUnits.keys()].map(
      (column) => layout.headings[column] || `column ${column + 1}`,
    ),
    blankLines: tally.blankLines,
    commentLines: tally.commentLines,
    remarkLines: tally.remarkLines,
    raggedLines: tally.shortLines + tally.longLines,
    blankCells: finished.columns.reduce((sum, column) => sum + column.blanks, 0),
    overloadCells: finished.columns.reduce((sum, column) => sum + column.overloads, 0),
    stamps,
    told: told.keys,
  };
  let digest: string | null = null;
  return succeed({
    file,
    columns: finished.columns,
    rows: Math.max(...finished.runs.map((run) => run.rows)),
    rowNumbers,
    recognised,
    // Worked out when it is asked for: it takes longer than reading the numbers.
    get sha256() {
      digest ??= sha256(read.bytes);
      return digest;
    },
    notes: boundNotes(
      [
        ...read.notes,
        ...doubts,
        ...missingHeading,
        ...columnNotes(finished, file, rowNumbers),
        ...aboutStamps,
        ...lineNotes(tally, read.source.delimiter, file),
      ],
      tally.remarkLines,
      file,
    ),
  });
}
