import { type Document, isMap, isNode, isScalar, isSeq, type Pair, parseDocument } from 'yaml';
import type { EditPlace } from './lab-edit.ts';

/** Where in a lab file a cursor stands: in a key of the map `at`, or in the value at `at`. */
export interface CursorPlace {
  readonly kind: 'key' | 'value';
  readonly at: EditPlace;
  /** What is written of the key or value before the cursor. */
  readonly written: string;
  /** Offset at which it begins. */
  readonly from: number;
  /** Keys of the map that are there already, without the one at the cursor. */
  readonly keys: readonly string[];
}

/** A sign that no file has, put in at the cursor so that it is found again in what the text reads as. */
const MARK = '\uE0F7';

/**
 * The place of a cursor in a text that may be half written.
 *
 * @returns null where the cursor stands in a comment, or nothing can be told
 */
export function placeOfCursor(text: string, offset: number): CursorPlace | null {
  const line = text.slice(text.lastIndexOf('\n', offset - 1) + 1, offset);
  if (/(^|\s)#/.test(line.replace(/"[^"]*"?|'[^']*'?/g, ''))) return null;
  const [before, after] = [text.slice(0, offset), text.slice(offset)];
  const restOfLine = /^[^\n]*/.exec(after)?.[0] ?? '';
  // What is being written may be a key whose colon is still to come.
  const insertions = restOfLine.trim() === '' ? [MARK, `${MARK}: `] : [MARK];
  const found = insertions.flatMap((insertion) => {
    const document = parse(`${before}${insertion}${after}`);
    const place = document === null ? null : findMark(document);
    return document === null || place === null ? [] : [{ place, errors: document.errors.length }];
  });
  const best = found.sort((a, b) => a.errors - b.errors || rank(a.place) - rank(b.place))[0]?.place;
  if (best === undefined) return null;
  // A value without a key above it is a key without its colon.
  return { ...best, from: offset - best.written.length };
}

/** Where both read alike, a key is meant: a plain value in place of a map would be one. */
function rank({ kind }: { readonly kind: 'key' | 'value' }): number {
  return kind === 'key' ? 0 : 1;
}

function parse(text: string): Document.Parsed | null {
  try {
    return parseDocument(text, {
      prettyErrors: false,
      stringKeys: true,
      schema: 'core',
      uniqueKeys: false,
      logLevel: 'silent',
    });
  } catch {
    return null;
  }
}

type Found = Omit<CursorPlace, 'from'>;

function findMark(document: Document.Parsed): Found | null {
  return findIn(document.contents, []);
}

function findIn(node: unknown, at: EditPlace): Found | null {
  if (isScalar(node)) {
    const value = String(node.value ?? '');
    const end = value.indexOf(MARK);
    return end < 0 ? null : { kind: 'value', at, written: value.slice(0, end), keys: [] };
  }
  if (isMap(node)) {
    for (const pair of node.items) {
      const key = nameOf(pair);
      const end = key.indexOf(MARK);
      if (end >= 0) {
        const keys = node.items.filter((other) => other !== pair).map(nameOf);
        return { kind: 'key', at, written: key.slice(0, end), keys };
      }
      const inner = findIn(pair.value, [...at, key]);
      if (inner !== null) return inner;
    }
  }
  if (isSeq(node)) {
    for (const [index, item] of node.items.entries()) {
      const inner = findIn(item, [...at, index]);
      if (inner !== null) return inner;
    }
  }
  return null;
}

function nameOf({ key }: Pair): string {
  return isScalar(key) ? String(key.value ?? '') : '';
}

/** The key or value that stands at an offset, for a text that is sound: its place and what it reads as. */
export function placeAt(
  text: string,
  offset: number,
): {
  readonly kind: 'key' | 'value';
  readonly at: EditPlace;
  readonly from: number;
  readonly to: number;
} | null {
  const document = parse(text);
  return document === null ? null : lookIn(document.contents, [], offset);
}

function lookIn(node: unknown, at: EditPlace, offset: number): ReturnType<typeof placeAt> {
  if (!isNode(node) || !node.range || offset < node.range[0] || offset > node.range[1]) return null;
  if (isScalar(node)) return { kind: 'value', at, from: node.range[0], to: node.range[1] };
  if (isMap(node)) {
    for (const pair of node.items) {
      const range = isScalar(pair.key) ? pair.key.range : null;
      const inner = [...at, nameOf(pair)];
      if (range && offset >= range[0] && offset <= range[1])
        return { kind: 'key', at: inner, from: range[0], to: range[1] };
      const found = lookIn(pair.value, inner, offset);
      if (found !== null) return found;
    }
  }
  if (isSeq(node)) {
    for (const [index, item] of node.items.entries()) {
      const found = lookIn(item, [...at, index], offset);
      if (found !== null) return found;
    }
  }
  return null;
}
