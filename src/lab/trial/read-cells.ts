import { fail, type Outcome, problem, succeed } from '../../problem/index.ts';
import { decodeText } from './encoding.ts';
import { readRecords } from './records.ts';
import type { Delimiter } from './trial-table.ts';

/** A delimited text as cells, nothing of it taken for a number yet: a list of names and what they reported. */
export interface TextCells {
  readonly delimiter: Delimiter;
  /** Lines that hold anything, with their number in the file, 1-based; the first of them is the heading. */
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

const delimiters: readonly Delimiter[] = [';', '\t', ',', '|'];

/** Longest list that is read: thousands of classes. */
const mostRows = 20_000;

/**
 * Reads delimited text as cells; the delimiter is the one that the first line holds most of.
 *
 * @returns fails where the bytes are not text, where there is nothing but a heading, or the list is too long
 */
export function readCells(bytes: Uint8Array, file: string): Outcome<TextCells> {
  const decoded = decodeText(bytes, file, undefined);
  if (!decoded.ok) return decoded;
  const { utf8 } = decoded.value;
  const first = readRecords(utf8, 'none').next();
  const heading = first.done === true ? '' : first.value.text;
  const counts = delimiters.map((delimiter) => heading.split(delimiter).length);
  const delimiter = delimiters[counts.indexOf(Math.max(...counts))] ?? ',';
  const rows: { line: number; cells: readonly string[] }[] = [];
  for (const { line, cells } of readRecords(utf8, delimiter)) {
    const trimmed = cells.map((cell) => cell.trim());
    if (trimmed.every((cell) => cell === '')) continue;
    if (rows.length > mostRows) {
      const message = `The list has more than ${mostRows} lines.`;
      return fail(problem('list-too-long', { file, line }, message, 'Split it by class.'));
    }
    rows.push({ line, cells: trimmed });
  }
  if (rows.length < 2) {
    const message =
      rows.length === 0 ? 'The file is empty.' : 'The file holds a heading and nothing below it.';
    return fail(
      problem('empty-list', { file }, message, 'A list has a line of headings, then a line for each group.'),
    );
  }
  return succeed({ delimiter, rows });
}
