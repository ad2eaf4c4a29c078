import { type Problem, warning } from '../../problem/index.ts';
import type { DialectDoubt } from './dialect.ts';
import type { FinishedColumns } from './finish-columns.ts';
import { mostBlocks, type Tally } from './table-builder.ts';
import { examineStamps, type StampFindings, stampColumn } from './time-stamps.ts';
import { listNames } from './told.ts';
import type { Delimiter, StampSummary, TableColumn, TextColumn } from './trial-table.ts';

const mostOfAKind = 12;

/** The first dozen notes of each code, and how many more there are. */
export function boundNotes(notes: readonly Problem[], remarkLines: number, file: string): Problem[] {
  const counts = new Map<string, number>();
  const kept = notes.filter((note) => {
    const seen = (counts.get(note.code) ?? 0) + 1;
    counts.set(note.code, seen);
    return seen <= mostOfAKind;
  });
  counts.set('remark', Math.max(counts.get('remark') ?? 0, remarkLines));
  const more = [...counts].filter(([, number]) => number > mostOfAKind);
  return [
    ...kept,
    ...more.map(([code, number]) =>
      warning(code, { file }, `There are ${number - mostOfAKind} more notes of this kind.`),
    ),
  ];
}

/** The doubts about marks, each with the way to settle it. */
export function doubtNotes(doubts: readonly DialectDoubt[], decimal: string, file: string): Problem[] {
  return doubts.map((doubt) => doubtNote(doubt, decimal, file));
}

function doubtNote(doubt: DialectDoubt, decimal: string, file: string): Problem {
  const place = { file };
  switch (doubt) {
    case 'decimals or thousands': {
      const [name, other] = decimal === ',' ? ['comma', '.'] : ['point', ','];
      const message = `Every number with a ${name} has three digits after it, so it may mark decimals or thousands; it was read as a decimal ${name}.`;
      return warning(
        'doubtful-decimal-mark',
        place,
        message,
        `If it marks thousands, say so under "as read": decimal mark: "${other}".`,
      );
    }
    case 'thousands beside decimal points': {
      const other = decimal === '.' ? 'comma' : 'point';
      const message = `A ${other} with three digits after it was read as a mark of thousands, because other numbers have a decimal ${decimal === '.' ? 'point' : 'comma'}.`;
      return warning(
        'doubtful-decimal-mark',
        place,
        message,
        `If that is right, say so under "as read": decimal mark: "${decimal}".`,
      );
    }
    case 'two columns or decimal comma': {
      const one = decimal === ',';
      const message = `Every line is two whole numbers with a comma between and there is no heading; it was read as ${one ? 'one column with decimal comma' : 'two columns'}.`;
      const advice = one
        ? 'If there are two columns, say so under "as read": delimiter: ",".'
        : 'If it is one column, say so under "as read": delimiter: none, decimal mark: ",".';
      return warning('doubtful-delimiter', place, message, advice);
    }
    case 'decimal comma between commas': {
      const message =
        'There are twice as many whole numbers in a line as headings: decimal commas cannot be told from the commas between the columns.';
      const advice = 'Export the readings again with semicolons or tabs between the columns.';
      return warning('decimal-comma-between-commas', place, message, advice);
    }
  }
}

/** What happened to lines: ragged ones, remarks, another table below. */
export function lineNotes(tally: Tally, delimiter: Delimiter | null, file: string): Problem[] {
  const notes: Problem[] = [];
  const at = (line: number): { file: string; line: number } => ({ file, line });
  if (tally.shortLines > 0) {
    const what = `${count(tally.shortLines, 'line has', 'lines have')} fewer cells than the table has columns, this one first`;
    const message =
      delimiter === 'space'
        ? `${what}; between blanks nobody can tell which cell is missing, so lines like this were left out.`
        : `${what}; the missing cells count as blank.`;
    notes.push(warning('short-lines', at(tally.firstShort), message));
  }
  if (tally.longLines > 0) {
    const message = `${count(tally.longLines, 'line has', 'lines have')} numbers to the right of the last column, this one first; they were not read.`;
    const advice =
      'If a mark for thousands or decimals was taken for a delimiter, say which it is under "as read".';
    notes.push(warning('long-lines', at(tally.firstLong), message, advice));
  }
  for (const remark of tally.remarks) {
    notes.push(
      warning('remark', at(remark.line), `The remark "${remark.text}" among the readings was kept out.`),
    );
  }
  if (tally.restart > 0) {
    const message = 'Below a blank line the first column starts again here; it was read on as the same run.';
    const advice =
      'If another run begins here, make two trials of the file, with "first row" and "last row" under "as read".';
    notes.push(warning('restart', at(tally.restart), message, advice));
  }
  if (tally.runsLeftOut > 0) {
    const message = `The file holds more than ${mostBlocks} runs one below another; those from here on were not read.`;
    notes.push(
      warning(
        'too-many-runs',
        at(tally.runsLeftOut),
        message,
        'Split the file, or give "first row" and "last row" under "as read".',
      ),
    );
  }
  if (tally.otherTable > 0) {
    const message = 'Another table with another heading begins here; it was not read.';
    notes.push(
      warning(
        'other-table',
        at(tally.otherTable),
        message,
        'To read it, give its "first row" under "as read".',
      ),
    );
  }
  return notes;
}

/** What is odd about the columns: blank and marked cells, words among numbers, unknown units, clock times. */
export function columnNotes(finished: FinishedColumns, file: string, rowNumbers: RowNumbers): Problem[] {
  const notes: Problem[] = [];
  for (const column of finished.columns) {
    const named = nameIn(finished, column);
    if (column.notNumbers.count > 0) {
      const [first] = column.notNumbers.first;
      const message = `Column ${named} holds ${count(column.notNumbers.count, 'cell that is', 'cells that are')} not a number, this one first.`;
      notes.push(warning('not-numbers', first?.place ?? { file }, message, first?.message));
    }
    const gaps = column.blanks + column.overloads;
    if (gaps > 0) {
      const line = rowNumbers(firstMissing(column.values), column.run);
      const parts = [
        ...(column.blanks > 0 ? [count(column.blanks, 'blank cell', 'blank cells')] : []),
        ...(column.overloads > 0
          ? [count(column.overloads, 'cell marked as over range', 'cells marked as over range')]
          : []),
      ];
      notes.push(
        warning('blank-cells', { file, line }, `Column ${named} has ${parts.join(' and ')}, this one first.`),
      );
    }
  }
  for (const column of finished.textColumns.filter(isFirstOfHeading)) {
    const message = `Column "${column.heading}" holds words (${listNames(column.examples)}) and was kept out.`;
    notes.push(warning('column-of-words', { file }, message));
  }
  for (const { heading, unit } of finished.unknownUnits) {
    const message = `"${unit}" in the heading "${heading}" is not a unit known here, so the column has none.`;
    notes.push(
      warning('unknown-unit', { file }, message, `Give it under "as read": units: { "${heading}": … }.`),
    );
  }
  for (const clock of finished.clocks) {
    const place = { file, line: clock.line };
    if (clock.assumed) {
      const message = `The times in column "${clock.heading}" have two parts; they were read as hours and minutes.`;
      notes.push(
        warning(
          'doubtful-clock',
          place,
          message,
          `If they are minutes and seconds, say so under "as read": units: { "${clock.heading}": "mm:ss" }.`,
        ),
      );
    }
    if (clock.midnights > 0) {
      notes.push(
        warning(
          'midnight',
          { file },
          `The clock of column "${clock.heading}" passes midnight; the times go on counting.`,
        ),
      );
    }
    if (clock.doubtfulDate) {
      const message = `The dates in column "${clock.heading}" may have day or month first; the order that makes the recording shorter was taken.`;
      notes.push(warning('doubtful-date', { file }, message));
    }
  }
  return notes;
}

type RowNumbers = (row: number, run: number) => number;

/** Examines the time stamps of every run. */
export function stampNotes(
  finished: FinishedColumns,
  file: string,
  rowNumbers: RowNumbers,
): { notes: Problem[]; stamps: StampSummary[] } {
  const notes: Problem[] = [];
  const stamps: StampSummary[] = [];
  const byRun = new Map<number, TableColumn[]>();
  for (const column of finished.columns) {
    const others = byRun.get(column.run);
    if (others === undefined) byRun.set(column.run, [column]);
    else others.push(column);
  }
  for (const [run, columns] of byRun) {
    const column = stampColumn(columns);
    const found = column === null ? null : examineStamps(column.values);
    if (column === null || found === null) continue;
    const { interval, repeated, backward, gaps } = found;
    stamps.push({ heading: column.heading, run, interval, repeated, backward, gaps });
    notes.push(...notesOfStamps(column, found, nameIn(finished, column), file, rowNumbers));
  }
  return { notes, stamps };
}

function notesOfStamps(
  column: TableColumn,
  found: StampFindings,
  named: string,
  file: string,
  rowNumbers: RowNumbers,
): Problem[] {
  const notes: Problem[] = [];
  const at = (row: number): { file: string; line: number } => ({ file, line: rowNumbers(row, column.run) });
  const unit = column.unit === null ? '' : ` ${column.unit.text}`;
  if (found.repeated > 0) {
    const message = `${count(found.repeated, 'time stamp', 'time stamps')} of column ${named} ${found.repeated === 1 ? 'repeats' : 'repeat'} the one before, this one first.`;
    notes.push(warning('repeated-stamps', at(found.firstRepeated), message));
  }
  if (found.backward > 0) {
    const value = column.values[found.firstBackward];
    const message = `Time runs backward ${found.backward === 1 ? 'once' : `${found.backward} times`} in column ${named}, first here, to ${value}${unit}.`;
    notes.push(warning('backward-stamps', at(found.firstBackward), message));
  }
  if (found.gaps > 0 && found.interval !== null) {
    const message = `Column ${named} has ${count(found.gaps, 'gap', 'gaps')} longer than one and a half of its interval of ${tidy(found.interval)}${unit}, first before this line; the longest is ${tidy(found.longestGap)}${unit}.`;
    notes.push(warning('gaps', at(found.firstGap), message));
  }
  return notes;
}

function isFirstOfHeading(column: TextColumn, index: number, all: readonly TextColumn[]): boolean {
  return all.findIndex((other) => other.heading === column.heading) === index;
}

function nameIn(finished: FinishedColumns, column: TableColumn): string {
  return finished.runs.length > 1 ? `"${column.heading}" of run ${column.run}` : `"${column.heading}"`;
}

function firstMissing(values: Float64Array): number {
  let row = 0;
  while (row < values.length && !Number.isNaN(values[row])) row++;
  return row;
}

function count(n: number, one: string, several: string): string {
  return n === 1 ? `1 ${one}` : `${n} ${several}`;
}

/** Six digits are enough for a step that was itself a difference. */
function tidy(value: number): string {
  return String(Number(value.toPrecision(6)));
}
