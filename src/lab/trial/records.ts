import { splitLine } from './split-line.ts';
import type { Delimiter } from './trial-table.ts';

/** One record: a line, or several where a quoted cell holds line ends. */
export interface TextRecord {
  /** Line of the file, 1-based, on which it begins. */
  readonly line: number;
  /** Byte at which it begins, and the byte after its line end. */
  readonly start: number;
  readonly end: number;
  readonly lines: number;
  readonly text: string;
  readonly cells: readonly string[];
  readonly quoted: boolean;
}

/** A quote that is not closed within so many lines was no quote. */
const mostLinesQuoted = 16;

/** What stands further right is not read: no table is that wide, and memory is bounded by it. */
const mostBytesOfLine = 1 << 18;

/** Byte of the line end at or after `from`; the length of the text where there is none. */
export function lineEnd(utf8: Uint8Array, from: number): number {
  let at = from;
  while (at < utf8.length && utf8[at] !== 10 && utf8[at] !== 13) at++;
  return at;
}

/** Byte after a line end: CR LF counts as one. */
export function afterLineEnd(utf8: Uint8Array, end: number): number {
  return utf8[end] === 13 && utf8[end + 1] === 10 ? end + 2 : Math.min(end + 1, utf8.length);
}

/** Byte at which a line begins, 1-based; the length of the text where it has fewer lines. */
export function startOfLine(utf8: Uint8Array, line: number): number {
  if (line === Number.POSITIVE_INFINITY) return utf8.length;
  let at = 0;
  for (let number = 1; number < line && at < utf8.length; number++)
    at = afterLineEnd(utf8, lineEnd(utf8, at));
  return at;
}

/**
 * Reads the record that begins at byte `start`.
 *
 * @param line the number of that line in the file, 1-based
 */
export function readRecord(utf8: Uint8Array, start: number, line: number, delimiter: Delimiter): TextRecord {
  const firstEnd = lineEnd(utf8, start);
  const first = decode(utf8, start, firstEnd);
  let text = first;
  let end = firstEnd;
  let split = splitLine(text, delimiter);
  let lines = 1;
  while (split.open && lines < mostLinesQuoted && end < utf8.length) {
    const next = afterLineEnd(utf8, end);
    end = lineEnd(utf8, next);
    text = `${text} ${decode(utf8, next, end)}`;
    split = splitLine(text, delimiter);
    lines++;
  }
  if (split.open) {
    split = splitLine(first, delimiter, 'stand');
    text = first;
    end = firstEnd;
    lines = 1;
  }
  return { line, start, end: afterLineEnd(utf8, end), lines, text, cells: split.cells, quoted: split.quoted };
}

/** All records from byte `start` on, one at a time. */
export function* readRecords(
  utf8: Uint8Array,
  delimiter: Delimiter,
  start = 0,
  line = 1,
): Generator<TextRecord, void, undefined> {
  let at = start;
  let number = line;
  while (at < utf8.length) {
    const record = readRecord(utf8, at, number, delimiter);
    yield record;
    at = record.end;
    number += record.lines;
  }
}

const decoder = new TextDecoder('utf-8', { ignoreBOM: true });

function decode(utf8: Uint8Array, start: number, lineEnds: number): string {
  const end = Math.min(lineEnds, start + mostBytesOfLine);
  if (end - start > 96) return decoder.decode(utf8.subarray(start, end));
  let text = '';
  for (let at = start; at < end; at++) {
    const byte = utf8[at];
    if (byte >= 0x80) return decoder.decode(utf8.subarray(start, end));
    text += String.fromCharCode(byte);
  }
  return text;
}
