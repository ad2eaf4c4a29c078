/** A stretch of text that is replaced, by offsets in UTF-16 units. */
export interface Patch {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The text with all patches applied; they do not overlap, and those at one place follow in their order. */
export function applyPatches(text: string, patches: readonly Patch[]): string {
  let patched = '';
  let at = 0;
  for (const { from, to, text: own } of [...patches].sort((a, b) => a.from - b.from || a.to - b.to)) {
    patched += text.slice(at, from) + own;
    at = to;
  }
  return patched + text.slice(at);
}

/** Offset at which the line of an offset begins. */
export function lineStart(text: string, at: number): number {
  return text.lastIndexOf('\n', at - 1) + 1;
}

/** Offset of the line break that ends the line of an offset (of its \r where it has one), or the end of the text. */
export function lineEnd(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  if (end < 0) return text.length;
  return end > at && text[end - 1] === '\r' ? end - 1 : end;
}

/** Column of an offset, from 0. */
export function columnOf(text: string, at: number): number {
  return at - lineStart(text, at);
}

/** Whether nothing but blanks stands before an offset in its line. */
export function beginsLine(text: string, at: number): boolean {
  return /^[ \t]*$/.test(text.slice(lineStart(text, at), at));
}

/** Whether nothing but blanks and a comment follows in the line of an offset. */
export function endsLine(text: string, at: number): boolean {
  const rest = text.slice(at, lineEnd(text, at));
  return /^[ \t]*$/.test(rest) || /^[ \t]+#/.test(rest);
}

/** The line break that a text uses. */
export function lineBreakOf(text: string): '\n' | '\r\n' {
  const first = text.indexOf('\n');
  return first > 0 && text[first - 1] === '\r' ? '\r\n' : '\n';
}
