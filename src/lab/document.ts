import {
  type Document,
  isMap,
  isNode,
  isScalar,
  LineCounter,
  type Node,
  parseDocument,
  type Range,
} from 'yaml';
import type { Origin, Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';

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
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: true });
  const problems: Problem[] = document.errors.map((error) =>
    problem(
      'not-yaml',
      placeAtOffset(file, lines, error.pos[0]),
      `This is not YAML: ${sentence(error.message)}`,
    ),
  );
  if (problems.length > 0) return fail(...problems);
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
  return succeed(new PlacedDocument(file, data, document, lines));
}

class PlacedDocument implements LabDocument {
  readonly file: string;
  readonly data: unknown;
  readonly #document: Document.Parsed;
  readonly #lines: LineCounter;

  constructor(file: string, data: unknown, document: Document.Parsed, lines: LineCounter) {
    this.file = file;
    this.data = data;
    this.#document = document;
    this.#lines = lines;
  }

  placeOf(path: Path): Place {
    for (let length = path.length; length > 0; length--) {
      const range = this.#nodeAt(path.slice(0, length))?.range;
      if (range) return placeAtOffset(this.file, this.#lines, range[0]);
    }
    return { file: this.file, line: 1, column: 1 };
  }

  placeOfKey(path: Path): Place {
    const key = path[path.length - 1];
    const parent = path.length === 1 ? this.#document.contents : this.#nodeAt(path.slice(0, -1));
    if (isMap(parent)) {
      for (const pair of parent.items) {
        const range: Range | null | undefined =
          isScalar(pair.key) && String(pair.key.value) === String(key) ? pair.key.range : null;
        if (range) return placeAtOffset(this.file, this.#lines, range[0]);
      }
    }
    return this.placeOf(path);
  }

  originOf(path: Path): Origin {
    const node = this.#nodeAt(path);
    const start = node?.range?.[0];
    if (start === undefined) return { placeAt: () => this.placeOf(path) };
    const quoted = isScalar(node) && (node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE') ? 1 : 0;
    return { placeAt: (offset) => placeAtOffset(this.file, this.#lines, start + quoted + offset) };
  }

  #nodeAt(path: Path): Node | null {
    const node = path.length === 0 ? this.#document.contents : this.#document.getIn(path, true);
    return isNode(node) ? node : null;
  }
}

function placeAtOffset(file: string, lines: LineCounter, offset: number): Place {
  const { line, col } = lines.linePos(offset);
  return { file, line: Math.max(line, 1), column: Math.max(col, 1) };
}

function sentence(message: string): string {
  const text = message.split('\n')[0]?.trim() ?? '';
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
