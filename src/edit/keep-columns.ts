import { lineEnd, lineStart, type Patch } from './patch.ts';

/** What is left of a line up to its comment; quotes may hold a sign that would begin one. */
const COMMENT = /^((?:[^#"']|"(?:[^"\\]|\\.)*"|'[^']*')*?)( +)(#)/;

/** What is left up to the next key of a map in brackets. */
const NEXT_KEY = /^(,)( +)([^\s:,{}[\]"'#]+(?: [^\s:,{}[\]"'#]+)*:)/;

/**
 * What stands in a column with its neighbours stays in it: where a stretch of a line changes its length, blanks behind
 * it give way or fill up, so that the comment or the key that follows does not move.
 *
 * @param patch within one line; its text has no line break
 * @returns the patch, with one more where blanks were changed
 */
export function keepColumns(text: string, patch: Patch): readonly Patch[] {
  const longer = patch.text.length - (patch.to - patch.from);
  if (longer === 0 || patch.text.includes('\n') || text.slice(patch.from, patch.to).includes('\n'))
    return [patch];
  const end = lineEnd(text, patch.to);
  const rest = text.slice(patch.to, end);
  const gap = COMMENT.exec(rest) ?? NEXT_KEY.exec(rest);
  if (gap === null) return [patch];
  const [, before = '', blanks = '', token = ''] = gap;
  const column = patch.to - lineStart(text, patch.to) + before.length + blanks.length;
  if (!standsInColumn(text, patch.to, column, token)) return [patch];
  const wanted = Math.max(1, blanks.length - longer);
  if (wanted === blanks.length) return [patch];
  const from = patch.to + before.length;
  return [patch, { from, to: from + blanks.length, text: ' '.repeat(wanted) }];
}

/** Whether a line next to that of an offset has the same token at the column. */
function standsInColumn(text: string, at: number, column: number, token: string): boolean {
  const start = lineStart(text, at);
  const above = start === 0 ? null : lineStart(text, start - 1);
  const next = text.indexOf('\n', at);
  const below = next < 0 ? null : next + 1;
  return [above, below].some(
    (line) =>
      line !== null &&
      line + column <= lineEnd(text, line) &&
      text.startsWith(token, line + column) &&
      text[line + column - 1] === ' ',
  );
}
