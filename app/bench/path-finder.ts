import { isCollection, isMap, isScalar, LineCounter, type Node, parseDocument } from 'yaml';
import type { Path } from '../../src/lab/index.ts';
import type { Place } from '../../src/problem/index.ts';

/** The deepest part of a lab file that holds a place; the whole file where the place names no line. */
export type PathFinder = (place: Place) => Path;

interface Part {
  readonly start: number;
  readonly end: number;
  readonly path: Path;
}

/** Prepares a lab text for looking up which of its parts a message speaks of. */
export function pathFinderOf(text: string): PathFinder {
  const lines = new LineCounter();
  const parts: Part[] = [];
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: false, logLevel: 'silent' });
  collect(document.contents, [], parts);
  return ({ line, column = 1 }) => {
    if (line === undefined) return [];
    const offset = (lines.lineStarts[line - 1] ?? text.length) + column - 1;
    let best: Part | null = null;
    for (const part of parts)
      if (
        part.start <= offset &&
        offset <= part.end &&
        (best === null || part.path.length >= best.path.length)
      )
        best = part;
    return best?.path ?? [];
  };
}

/** Each part with its stretch of the text; a key belongs to its value. */
function collect(node: unknown, path: Path, parts: Part[]): void {
  if (!isCollection(node)) return;
  for (const [index, item] of node.items.entries()) {
    if (isMap(node)) {
      const { key, value } = pairOf(item);
      if (!isScalar(key)) continue;
      const own = [...path, String(key.value)];
      const start = key.range?.[0];
      const end = rangeEnd(value) ?? key.range?.[1];
      if (start !== undefined && end !== undefined) parts.push({ start, end, path: own });
      collect(value, own, parts);
    } else {
      const own = [...path, index];
      const range = isRanged(item) ? item.range : null;
      if (range) parts.push({ start: range[0], end: range[1], path: own });
      collect(item, own, parts);
    }
  }
}

function pairOf(item: unknown): { readonly key: unknown; readonly value: unknown } {
  if (typeof item !== 'object' || item === null) return { key: null, value: null };
  return { key: 'key' in item ? item.key : null, value: 'value' in item ? item.value : null };
}

function rangeEnd(value: unknown): number | undefined {
  return isRanged(value) ? value.range?.[1] : undefined;
}

function isRanged(value: unknown): value is Node {
  return isCollection(value) || isScalar(value);
}
