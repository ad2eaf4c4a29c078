import {
  type Document,
  isMap,
  isNode,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  type Pair,
  parseDocument,
  type YAMLMap,
} from 'yaml';
import type { Origin, Outcome, Place } from '../problem/index.ts';
import { fail, problem, succeed, warning } from '../problem/index.ts';
import { scalarOffsets } from './scalar-offsets.ts';
import { nameOfKey, offsetOf, type Places, placeAtOffset } from './yaml-places.ts';
import { findForbidden, nestedTooDeep, sentence, tellErrors } from './yaml-problems.ts';

/** Where something stands in the lab file: the keys and positions that lead to it. */
export type Path = readonly (string | number)[];

/** A lab file as written: its data, and the place of every part of it. */
export interface LabDocument {
  readonly file: string;
  /** The plain data, as the YAML 1.2 core schema reads it. */
  readonly data: unknown;
  /** The place of a value; of the nearest enclosing part where the path does not exist. */
  placeOf(path: Path): Place;
  /** The place of a key itself. */
  placeOfKey(path: Path): Place;
  /** Maps offsets in the text of a scalar to places in the file. */
  originOf(path: Path): Origin;
}

/** Longest lab file that is read, in characters: far above any real lab, far below what could stall the reader. */
const LONGEST_FILE = 2_000_000;

/** An alias may stand for other aliases; this bounds what a few lines can expand to. */
const MOST_ALIASES = 100;

/**
 * Reads the text of a lab file as YAML 1.2 (core schema), keeping the place of every part.
 *
 * @param text the file's text
 * @param file the file's name for messages
 * @returns the document, or one problem for each place where the text is not YAML
 * Source of the format: YAML Ain't Markup Language 1.2.2, yaml.org/spec/1.2.2
 */
export function readDocument(text: string, file: string): Outcome<LabDocument> {
  if (text.length > LONGEST_FILE) {
    return fail(
      problem(
        'file-too-long',
        { file },
        `The file has ${text.length} characters; a lab file has at most ${LONGEST_FILE}.`,
      ),
    );
  }
  const lines = new LineCounter();
  const document = parse(text, lines);
  if (document === null) return fail(nestedTooDeep({ file, line: 1, column: 1 }));
  const places: Places = { file, lines };
  if (document.errors.length > 0) return fail(...tellErrors(document.errors, places));
  const forbidden = findForbidden(document, places);
  if (forbidden.length > 0) return fail(...forbidden);
  let data: unknown;
  try {
    data = document.toJS({ maxAliasCount: MOST_ALIASES });
  } catch (error) {
    const reason = error instanceof Error ? sentence(error.message) : 'it cannot be read.';
    return fail(
      problem(
        'not-yaml',
        { file, line: 1, column: 1 },
        `The aliases of this file cannot be resolved: ${reason}`,
      ),
    );
  }
  const warnings = document.warnings.map((found) =>
    warning(
      'unusual-yaml',
      placeAtOffset(places, found.pos[0]),
      `${sentence(found.message)} It is read as if the tag were not there.`,
    ),
  );
  return succeed(new PlacedDocument(data, document, text, places), warnings);
}

/** The document with its errors; null where its nesting exhausts the parser. */
function parse(text: string, lines: LineCounter): Document.Parsed | null {
  try {
    return parseDocument(text, {
      lineCounter: lines,
      prettyErrors: false,
      // Repeated keys are found below, in one pass; here it would take the square of their number.
      uniqueKeys: false,
      stringKeys: true,
      merge: false,
      schema: 'core',
      // Tags such as !!binary and !!timestamp would bring values that are no text, number, list or map.
      resolveKnownTags: false,
      logLevel: 'error',
    });
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

class PlacedDocument implements LabDocument {
  readonly file: string;
  readonly data: unknown;
  readonly #document: Document.Parsed;
  readonly #text: string;
  readonly #places: Places;
  /** Pairs of each map by key, made when a map is first looked into. */
  readonly #pairs = new WeakMap<YAMLMap, ReadonlyMap<string, Pair>>();

  constructor(data: unknown, document: Document.Parsed, text: string, places: Places) {
    this.file = places.file;
    this.data = data;
    this.#document = document;
    this.#text = text;
    this.#places = places;
  }

  placeOf(path: Path): Place {
    for (let length = path.length; length > 0; length--) {
      const node = this.#nodeAt(path.slice(0, length));
      if (node?.range) return placeAtOffset(this.#places, node.range[0]);
    }
    return { file: this.file, line: 1, column: 1 };
  }

  placeOfKey(path: Path): Place {
    const parent = this.#nodeAt(path.slice(0, -1));
    const key = isMap(parent) ? this.#pairOf(parent, path[path.length - 1])?.key : undefined;
    return isScalar(key) ? placeAtOffset(this.#places, offsetOf(key)) : this.placeOf(path);
  }

  originOf(path: Path): Origin {
    const node = this.#nodeAt(path);
    // What an alias repeats is right where it was first written; it is the repeating that may be wrong.
    if (!isScalar(node) || !node.range) return { placeAt: () => this.placeOf(path) };
    const value = typeof node.value === 'string' ? node.value : (node.source ?? '');
    let offsets: Int32Array | undefined;
    return {
      placeAt: (offset) => {
        offsets ??= scalarOffsets(node, value, this.#text);
        return placeAtOffset(this.#places, offsets[Math.max(0, Math.min(offset, value.length))]);
      },
    };
  }

  #nodeAt(path: Path): Node | null {
    let node: unknown = this.#document.contents;
    for (const part of path) {
      if (isMap(node)) node = this.#pairOf(node, part)?.value;
      else if (isSeq(node)) node = node.items[Number(part)];
      else return null;
    }
    return isNode(node) ? node : null;
  }

  #pairOf(map: YAMLMap, name: string | number | undefined): Pair | undefined {
    let pairs = this.#pairs.get(map);
    if (pairs === undefined) {
      const named = map.items.flatMap((pair) =>
        isScalar(pair.key) ? [[nameOfKey(pair.key.value), pair] as const] : [],
      );
      pairs = new Map(named);
      this.#pairs.set(map, pairs);
    }
    return pairs.get(String(name));
  }
}
