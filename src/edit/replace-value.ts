import { isMap, isSeq, type Node } from 'yaml';
import type { PlainValue } from './lab-edit.ts';
import { type Collection, type Entry, entriesOf, isCollection } from './lab-tree.ts';
import { columnOf, endsLine, lineEnd, type Patch } from './patch.ts';
import { type Style, writeValue } from './write-value.ts';

/** The collection that an edit works in, with where its entries stand. */
export interface Parent {
  readonly node: Collection;
  readonly entries: readonly Entry[];
  /** Columns before its keys or dashes; 0 in brackets. */
  readonly indent: number;
}

/** Makes the parent ready; null where its form is not edited piece by piece. */
export function parentOf(node: Collection, text: string): Parent | null {
  const entries = entriesOf(node, text);
  if (entries === null) return null;
  const [first] = entries;
  return {
    node,
    entries,
    indent: node.flow === true || first === undefined ? 0 : columnOf(text, first.start),
  };
}

/**
 * How the collections of a parent's entries are written: as the nearest one before is, or the nearest after. A section
 * of the file that holds more than plain values stands in lines.
 */
export function styleAt(parent: Parent, index: number, value: PlainValue): Style {
  if (parent.indent === 0 && isMap(parent.node) && parent.node.flow !== true)
    return { collections: holdsCollections(value) ? 'lines' : 'brackets' };
  const others = [...parent.entries.slice(0, index).reverse(), ...parent.entries.slice(index + 1)];
  const nearest = others.map(({ value }) => value).find((value) => isCollection(value));
  return { collections: isCollection(nearest) && nearest.flow !== true ? 'lines' : 'brackets' };
}

function holdsCollections(value: PlainValue): boolean {
  return (
    typeof value === 'object' &&
    value !== null &&
    Object.values(value).some((item) => typeof item === 'object')
  );
}

/** Puts a new value in the place of an old one; the comment that follows in the line stays. */
export function replaceValue(
  text: string,
  parent: Parent,
  index: number,
  value: PlainValue,
): readonly Patch[] {
  const entry = parent.entries[index];
  if (entry === undefined) return [];
  const inBrackets = parent.node.flow === true;
  const old = entry.value;
  const column = columnOf(text, entry.valueFrom) + 1;
  const style: Style =
    isCollection(old) && old.items.length > 0
      ? { collections: old.flow === true ? 'brackets' : 'lines' }
      : styleAt(parent, index, value);
  const written = writeValue(value, old, { inBrackets, indent: parent.indent }, style, column);
  if (written.kind === 'lines') return putLines(text, parent, entry, written.lines);
  const start = startOfText(old, entry);
  if (start !== null) return [{ from: start, to: entry.end, text: written.text }];
  const isItem = !isMap(parent.node);
  const glue = isItem && inBrackets ? '' : ' ';
  return [{ from: entry.valueFrom, to: entry.end, text: `${glue}${written.text}` }];
}

/** Where an old value that stands behind its key begins; null where it is empty or stands in lines below. */
function startOfText(old: Node | null, entry: Entry): number | null {
  if (old === null || !old.range || old.range[0] === entry.end) return null;
  return isCollection(old) && old.flow !== true ? null : old.range[0];
}

/** The old value goes, and lines come below; a comment behind the old value stays where it is. */
function putLines(text: string, parent: Parent, entry: Entry, lines: readonly string[]): readonly Patch[] {
  if (isSeq(parent.node))
    return [{ from: entry.valueFrom, to: entry.end, text: ` ${lines.join('\n').trimStart()}` }];
  const below = `\n${lines.join('\n')}`;
  if (!endsLine(text, entry.end)) return [{ from: entry.valueFrom, to: entry.end, text: below }];
  const end = lineEnd(text, entry.end);
  return [
    { from: entry.valueFrom, to: entry.end, text: '' },
    { from: end, to: end, text: below },
  ];
}
