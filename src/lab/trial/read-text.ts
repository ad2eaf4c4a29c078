import { fail, type Outcome, type Problem, problem, warning } from '../../problem/index.ts';
import { assembleTable } from './assemble-table.ts';
import { type Dialect, detectDialect } from './dialect.ts';
import { decodeText } from './encoding.ts';
import { findLayout } from './layout.ts';
import { parseDelimited, toRow } from './parse-delimited.ts';
import { readRecords, startOfLine } from './records.ts';
import { sampleLines } from './sample-lines.ts';
import type { Row } from './shape.ts';
import { TableBuilder } from './table-builder.ts';
import type { Told } from './told.ts';
import type { TrialTable } from './trial-table.ts';

/** Reads delimited text. Fails as readTrial says. */
export function readTextTable(
  bytes: Uint8Array,
  file: string,
  told: Told,
  signal: { readonly aborted: boolean } | undefined,
): Outcome<TrialTable> {
  const decoded = decodeText(bytes, file, told.encoding);
  if (!decoded.ok) return decoded;
  const { utf8, encoding, byteOrderMark, badSequences } = decoded.value;
  // What is told to be outside the table must not sway what is taken for its marks and columns.
  const from = told.firstRow === undefined ? 0 : startOfLine(utf8, told.firstRow);
  const to = startOfLine(utf8, told.lastRow + 1);
  const dialect = detectDialect(sampleLines(utf8.subarray(from, to)), {
    delimiter: told.delimiter,
    decimal: told.decimal,
  });
  if (dialect === null) return fail(noNumbers(file, told));
  const found = findLayout(
    placedRows(utf8, dialect),
    dialect.shape,
    dialect.delimiter,
    told,
    dialect.cellUnits,
  );
  if (found === null) return fail(noNumbers(file, told));
  const { layout, first } = found;
  const typicalLine = Math.max(2, first.end - first.start);
  const expected = Math.min(Math.ceil(((utf8.length - first.start) / typicalLine) * 1.02), 4_000_000);
  const builder = new TableBuilder(layout, dialect.delimiter, expected);
  const done = parseDelimited(utf8, first.start, first.line, told.lastRow, dialect, builder, signal);
  if (!done)
    return fail(problem('interrupted', { file }, 'Reading was interrupted before the end of the file.'));
  const notes: Problem[] = [];
  if (badSequences > 0) {
    const message = `${badSequences} places are not valid in UTF-8 and were replaced.`;
    notes.push(
      warning(
        'bad-characters',
        { file },
        message,
        'If the file is in another encoding, name it under "as read".',
      ),
    );
  }
  return assembleTable({
    bytes,
    file,
    told,
    layout,
    builder,
    marks: dialect.marks,
    doubts: dialect.doubts,
    firstLine: first.line,
    notes,
    source: {
      container: 'text',
      encoding,
      byteOrderMark,
      delimiter: dialect.delimiter,
      sheet: null,
      otherSheets: [],
    },
  });
}

interface PlacedRow extends Row {
  readonly start: number;
  readonly end: number;
}

function* placedRows(utf8: Uint8Array, dialect: Dialect): Generator<PlacedRow, void, undefined> {
  for (const record of readRecords(utf8, dialect.delimiter)) {
    yield { ...toRow(record, dialect), start: record.start, end: record.end };
  }
}

/** The message where no table was found. */
export function noNumbers(file: string, told: Told): Problem {
  if (told.firstRow !== undefined) {
    return problem(
      'no-readings',
      { file, line: told.firstRow },
      'The first reading was told to be here, but no line with numbers follows.',
    );
  }
  const message =
    'No line of numbers was found; a trial needs at least one line with a number in each column.';
  const advice =
    'If there are numbers, say how they are written under "as read": delimiter, decimal mark, first row.';
  return problem('no-readings', { file }, message, advice);
}
