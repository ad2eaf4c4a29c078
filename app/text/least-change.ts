/** One stretch of a text with what stands there afterwards. */
export interface TextChange {
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/**
 * The shortest single stretch by which two texts differ: an editor that replaces no more keeps cursor and place.
 *
 * @returns null where they are equal
 */
export function leastChange(before: string, after: string): TextChange | null {
  if (before === after) return null;
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start++;
  let end = 0;
  while (end < most - start && before[before.length - 1 - end] === after[after.length - 1 - end]) end++;
  return { from: start, to: before.length - end, insert: after.slice(start, after.length - end) };
}

/** A text as the editor has it: its lines end in one way. */
export function withPlainLineEnds(text: string): string {
  return text.replace(/\r\n?/g, '\n');
}

/** What was written in the editor with the line ends of the file. */
export function withLineEndsOf(file: string, written: string): string {
  return file.includes('\r\n') ? written.replaceAll('\n', '\r\n') : written;
}
