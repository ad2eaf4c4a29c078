import { beginsLine, endsLine, lineEnd, lineStart, type Patch } from './patch.ts';
import type { Parent } from './replace-value.ts';

/**
 * Takes an entry away with the comment that follows it in its line; comments in lines of their own stay.
 *
 * @returns null where the entries stand in a way in which that is not possible
 */
export function removeEntry(text: string, parent: Parent, index: number): readonly Patch[] | null {
  if (parent.entries.length === 1) return emptyCollection(text, parent);
  return parent.node.flow === true ? removeInBrackets(text, parent, index) : removeLines(text, parent, index);
}

/** The last entry goes: what is left is an empty collection in brackets. */
function emptyCollection(text: string, { node, entries }: Parent): readonly Patch[] | null {
  const [entry] = entries;
  const isList =
    node.srcToken?.type === 'block-seq' || (node.flow === true && text[node.range?.[0] ?? 0] === '[');
  if (entry === undefined || !node.range) return null;
  if (node.flow === true) {
    const [open, close] = [node.range[0] + 1, node.range[1] - 1];
    const rest = text.slice(open, entry.start) + text.slice(entry.end, close);
    if (/^[\s,]*$/.test(rest)) return [{ from: open, to: close, text: '' }];
    return null;
  }
  const empty = isList ? '[]' : '{}';
  if (!endsLine(text, entry.end)) return null;
  return [{ from: entry.start, to: entry.end, text: empty }];
}

function removeInBrackets(text: string, { entries }: Parent, index: number): readonly Patch[] | null {
  const entry = entries[index];
  const after = entries[index + 1];
  const before = entries[index - 1];
  if (entry === undefined) return null;
  if (after !== undefined) {
    // What the last entry of a line leaves is the line break, not a hole in the next line.
    const gap = text.slice(entry.end, after.start);
    const breaks = gap.lastIndexOf('\n');
    const isFirst = beginsLine(text, entry.start);
    if (breaks >= 0 && !isFirst && before !== undefined && !gap.includes('#')) {
      const comma = text.slice(before.end, entry.start).indexOf(',');
      if (comma >= 0) return [{ from: before.end, to: entry.end, text: '' }];
    }
    if (gap.includes('#') && breaks >= 0) {
      const comma = /^\s*,/.exec(gap)?.[0].length ?? 0;
      return [{ from: entry.start, to: entry.end + comma, text: '' }];
    }
    return [{ from: entry.start, to: after.start, text: '' }];
  }
  if (before === undefined) return null;
  const gap = text.slice(before.end, entry.start);
  const comma = gap.indexOf(',');
  if (comma < 0) return null;
  if (!gap.includes('#')) return [{ from: before.end, to: entry.end, text: '' }];
  return [
    { from: before.end + comma, to: before.end + comma + 1, text: '' },
    { from: entry.start, to: entry.end, text: '' },
  ];
}

function removeLines(text: string, { entries }: Parent, index: number): readonly Patch[] | null {
  const entry = entries[index];
  const after = entries[index + 1];
  if (entry === undefined) return null;
  if (!beginsLine(text, entry.start)) {
    // The first key behind a dash: the next one takes its place, unless comments stand between them.
    if (after === undefined) return null;
    const between = text.slice(lineEnd(text, entry.end), after.start);
    const to = between.trim() === '' ? after.start : lineEnd(text, entry.end);
    return [{ from: entry.start, to, text: '' }];
  }
  const from = lineStart(text, entry.start);
  if (text[entry.end - 1] === '\n') return [{ from, to: entry.end, text: '' }];
  if (!endsLine(text, entry.end)) return null;
  const end = lineEnd(text, entry.end);
  const next = text.startsWith('\r\n', end) ? end + 2 : end + 1;
  if (end < text.length) return [{ from, to: next, text: '' }];
  // The last line of a text without a last line break takes the break before it along.
  const before = text[from - 2] === '\r' ? from - 2 : from - 1;
  return [{ from: Math.max(0, before), to: end, text: '' }];
}
