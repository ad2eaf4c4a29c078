import {
  type Document,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  type Node,
  type Pair,
  parseDocument,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { asPlain } from './as-plain.ts';
import type { EditPlace, PlainValue } from './lab-edit.ts';

/** A map or list of the file. */
export type Collection = YAMLMap | YAMLSeq;

/** One entry of a map, or one item of a list, with the stretch of text that it takes up. */
export interface Entry {
  /** Offset of its key, or of its dash in a list of lines. */
  readonly start: number;
  /** Offset behind its value, without comments and line breaks that follow. */
  readonly end: number;
  /** Offset behind the colon or dash; where the value itself begins in a list in brackets. */
  readonly valueFrom: number;
  readonly key: Node | null;
  readonly value: Node | null;
}

/** The text of a lab file with what stands where. */
export interface LabTree {
  readonly text: string;
  readonly data: PlainValue;
  readonly contents: Node | null;
}

/** The text that was read last, since the next edit is most often one of what the last one left. */
let last: LabTree | null = null;

/** Reads the text; null where it is not the YAML of one document. */
export function readTree(text: string): LabTree | null {
  if (last?.text !== text) last = read(text);
  return last;
}

function read(text: string): LabTree | null {
  const document = parse(text);
  if (document === null || document.errors.length > 0) return null;
  try {
    return { text, data: asPlain(document.toJS({ maxAliasCount: 100 })), contents: document.contents };
  } catch {
    return null;
  }
}

function parse(text: string): Document.Parsed | null {
  try {
    return parseDocument(text, {
      keepSourceTokens: true,
      prettyErrors: false,
      stringKeys: true,
      merge: false,
      schema: 'core',
      resolveKnownTags: false,
      logLevel: 'error',
    });
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

export function isCollection(node: unknown): node is Collection {
  return isMap(node) || isSeq(node);
}

/** The node at a place; null where there is none, or where an alias leads to it. */
export function nodeAt(tree: LabTree, at: EditPlace): Node | null {
  let node: unknown = tree.contents;
  for (const part of at) {
    if (isMap(node)) node = node.items.find((pair) => keyOf(pair) === String(part))?.value;
    else if (isSeq(node)) node = node.items[Number(part)];
    else return null;
  }
  return isNode(node) ? node : null;
}

function keyOf(pair: Pair): string | null {
  return isScalar(pair.key) ? String(pair.key.value ?? '') : null;
}

/** Position of a key or item in its collection; -1 where it is not there. */
export function positionIn(collection: Collection, part: string | number): number {
  if (isSeq(collection)) return Number(part) < collection.items.length ? Number(part) : -1;
  return collection.items.findIndex((pair) => keyOf(pair) === String(part));
}

/** The entries with their stretches of text; null where the file has a form that is not edited piece by piece. */
export function entriesOf(collection: Collection, text: string): readonly Entry[] | null {
  const entries: Entry[] = [];
  const starts = isSeq(collection) && collection.flow !== true ? dashesOf(collection) : null;
  for (const [index, item] of collection.items.entries()) {
    const entry = isSeq(collection) ? itemEntry(item, starts?.[index], text) : pairEntry(item, text);
    if (entry === null) return null;
    entries.push(entry);
  }
  return entries;
}

function pairEntry(pair: unknown, text: string): Entry | null {
  if (typeof pair !== 'object' || pair === null || !('key' in pair) || !('value' in pair)) return null;
  const { key, value } = pair;
  if (!isScalar(key) || !key.range) return null;
  const [start, keyEnd] = key.range;
  const colon = /^\s*:/.exec(text.slice(keyEnd))?.[0].length;
  const valueFrom = colon === undefined || !isNode(value) ? keyEnd : keyEnd + colon;
  const node = isNode(value) ? value : null;
  if (text.slice(Math.max(0, start - 2), start) === '? ') return null;
  return { start, end: Math.max(endOf(node, text) ?? valueFrom, valueFrom), valueFrom, key, value: node };
}

function itemEntry(item: unknown, dash: number | undefined, text: string): Entry | null {
  const node = isNode(item) ? item : null;
  const start = dash ?? node?.range?.[0];
  if (start === undefined) return null;
  const valueFrom = dash === undefined ? start : dash + 1;
  return {
    start,
    end: Math.max(endOf(node, text) ?? valueFrom, valueFrom),
    valueFrom,
    key: null,
    value: node,
  };
}

/** Offsets of the dashes of a list of lines. */
function dashesOf(list: YAMLSeq): readonly number[] {
  const token = list.srcToken;
  if (token?.type !== 'block-seq') return [];
  return token.items.flatMap(({ start }) => {
    const dash = start.find(({ type }) => type === 'seq-item-ind');
    return dash === undefined ? [] : [dash.offset];
  });
}

/** Offset behind a value, without what follows; null where it takes up no text. */
function endOf(node: Node | null, text: string): number | null {
  if (node === null || !node.range) return null;
  const [start, end] = node.range;
  if (isAlias(node) || (isCollection(node) && node.flow === true)) return end;
  if (isCollection(node)) {
    const entries = entriesOf(node, text);
    return entries?.at(-1)?.end ?? trimEnd(text, start, end);
  }
  if (isBlockScalar(node)) {
    const keeps = /^[|>][0-9]*\+/.test(text.slice(start, end));
    return keeps ? end : trimEnd(text, start, end);
  }
  return start === end ? null : end;
}

function isBlockScalar(node: Node | null): boolean {
  return isScalar(node) && (node.type === 'BLOCK_FOLDED' || node.type === 'BLOCK_LITERAL');
}

function trimEnd(text: string, start: number, end: number): number {
  return start + text.slice(start, end).trimEnd().length;
}
