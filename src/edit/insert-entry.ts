import { isMap, isSeq } from 'yaml';
import type { PlainValue } from './lab-edit.ts';
import { beginsLine, columnOf, endsLine, lineEnd, type Patch } from './patch.ts';
import { type Parent, styleAt } from './replace-value.ts';
import { writeKey } from './write-scalar.ts';
import { writeValue } from './write-value.ts';

/**
 * Puts a new entry between those that are there; the collection has at least one.
 *
 * @param key   of a map; null for a list
 * @param index position among the entries
 * @returns null where the entries stand in a way that leaves no place
 */
export function insertEntry(
  text: string,
  parent: Parent,
  key: string | null,
  index: number,
  value: PlainValue,
): readonly Patch[] | null {
  return parent.node.flow === true
    ? insertInBrackets(text, parent, key, index, value)
    : insertLine(text, parent, key, index, value);
}

function insertInBrackets(
  text: string,
  { entries, node }: Parent,
  key: string | null,
  index: number,
  value: PlainValue,
): readonly Patch[] | null {
  const written = writeValue(value, null, { inBrackets: true, indent: 0 }, { collections: 'brackets' }, 0);
  if (written.kind !== 'inline') return null;
  const entry = key === null ? written.text : `${writeKey(key)}: ${written.text}`;
  const before = entries[index - 1];
  const after = entries[index];
  const gap = gapOf(text, entries, entry) ?? ', ';
  if (after !== undefined) return [{ from: after.start, to: after.start, text: `${entry}${gap}` }];
  if (before === undefined) return null;
  const closing = node.range?.[1] ?? before.end;
  const comma = /^\s*,/.exec(text.slice(before.end, closing))?.[0].length;
  // A comma that stands behind the last entry already is the new entry's.
  if (comma !== undefined) {
    const from = before.end + comma;
    return [{ from, to: from, text: `${gap.slice(1)}${entry},` }];
  }
  return [{ from: before.end, to: before.end, text: `${gap}${entry}` }];
}

/** A line in brackets that would reach beyond this column goes on in the next one. */
const WIDTH = 115;

/** Comma and blanks between the last two entries, so that entries in lines of their own stay so. */
function gapOf(text: string, entries: Parent['entries'], entry: string): string | null {
  const [first, last, previous] = [entries[0], entries.at(-1), entries.at(-2)];
  if (first === undefined || last === undefined) return null;
  if (
    columnOf(text, last.end) + entry.length + 4 > WIDTH &&
    !text.slice(first.start, first.end).includes('\n')
  )
    return `,\n${' '.repeat(columnOf(text, first.start))}`;
  if (previous === undefined) return null;
  const gap = text.slice(previous.end, last.start);
  return /^,\s+$/.test(gap) ? gap.replace(/^, {2,}$/, ', ').replaceAll('\r', '') : null;
}

function insertLine(
  text: string,
  parent: Parent,
  key: string | null,
  index: number,
  value: PlainValue,
): readonly Patch[] | null {
  const { entries, indent } = parent;
  const pad = ' '.repeat(indent);
  const head = key === null ? '-' : headOf(text, parent, key, index);
  const column = indent + head.length + 1;
  const written = writeValue(
    value,
    null,
    { inBrackets: false, indent },
    styleAt(parent, index, value),
    column,
  );
  const entry =
    written.kind === 'inline' ? joinHead(head, written.text) : below(head, written.lines, key === null);
  const before = entries[index - 1];
  const after = entries[index];
  if (before !== undefined) {
    // A block that keeps its last line breaks ends behind one.
    if (text[before.end - 1] === '\n')
      return [{ from: before.end, to: before.end, text: `${pad}${entry}\n` }];
    if (!endsLine(text, before.end)) return null;
    const end = lineEnd(text, before.end);
    return [{ from: end, to: end, text: `\n${pad}${entry}` }];
  }
  if (after === undefined) return null;
  // The first key of an item stands behind its dash.
  const start = after.start;
  return beginsLine(text, start) || isMap(parent.node) || isSeq(parent.node)
    ? [{ from: start, to: start, text: `${entry}\n${pad}` }]
    : null;
}

function joinHead(head: string, value: string): string {
  return head.endsWith(' ') ? head + value : `${head} ${value}`;
}

function below(head: string, lines: readonly string[], isItem: boolean): string {
  return isItem ? `- ${lines.join('\n').trimStart()}` : `${head.trimEnd()}\n${lines.join('\n')}`;
}

/** 'key:' and the blanks that bring its value into the column of the others' values, if they have one. */
function headOf(text: string, { entries }: Parent, key: string, index: number): string {
  const head = `${writeKey(key)}:`;
  const stretches = [...entries.slice(0, index).reverse(), ...entries.slice(index)].flatMap((entry) => {
    const start = entry.value?.range?.[0];
    if (start === undefined) return [];
    const stretch = text.slice(entry.start, start);
    return stretch.includes('\n') ? [] : [stretch];
  });
  const [nearest = ''] = stretches;
  const isColumn =
    / {2,}$/.test(nearest) || stretches.some(({ length }, other) => other > 0 && length === nearest.length);
  const padded = head.padEnd(nearest.length);
  return isColumn && padded.endsWith(' ') ? padded : `${head} `;
}
