import { isMap, isPair, isScalar, LineCounter, parseDocument, type Scalar, visit } from 'yaml';
import {
  fail,
  type Outcome,
  type Place,
  type Problem,
  problem,
  succeed,
  warning,
} from '../../problem/index.ts';

/** Words of a lab file in another language. */
export interface Translation {
  /** The lab file with its words exchanged. */
  readonly text: string;
  /** The words as they are now. */
  readonly translated: ReadonlySet<string>;
}

/** Longer lists are no words of a lab. */
const LONGEST_LIST = 1_000_000;

/**
 * A lab file with its words in another language: names of effects, instruments and trials, what quantities are,
 * reasons, cautions. Every key and every value of the file that is one of the listed words, as a whole, is exchanged,
 * so what is named in one place and used in another stays the same.
 *
 * @param lab     the lab file
 * @param words   YAML, `words of the lab: what they are in the other language`
 * @param file    where `words` stand, for messages
 * @returns the text; words that the lab does not have are warnings
 */
export function translateLab(lab: string, words: string, file: string): Outcome<Translation> {
  const list = readWords(words, file);
  if (!list.ok) return list;
  const document = parseDocument(lab);
  const used = new Set<string>();
  visit(document, {
    Scalar(place, node, path) {
      if (typeof node.value !== 'string' || (place === 'value' && isKind(path.at(-1)))) return;
      const found = list.value.get(bare(node.value));
      if (found === undefined) return;
      used.add(bare(node.value));
      node.value = found.text;
    },
  });
  const warnings = [...list.value]
    .filter(([words]) => !used.has(words))
    .map(([words, { place }]) =>
      warning(
        'unused-translation',
        place,
        `The lab has no words "${shortened(words)}".`,
        'They stand there as they do in the lab file.',
      ),
    );
  const translated = new Set([...list.value.values()].map(({ text }) => bare(text)));
  return succeed({ text: document.toString({ lineWidth: 0 }), translated }, warnings);
}

/** Whether a pair of the file says of which kind something is: kinds are fixed, also where a name is spelt alike. */
function isKind(pair: unknown): boolean {
  return isPair(pair) && isScalar(pair.key) && pair.key.value === 'kind';
}

interface Word {
  readonly text: string;
  readonly place: Place;
}

function readWords(source: string, file: string): Outcome<ReadonlyMap<string, Word>> {
  if (source.length > LONGEST_LIST) {
    const message = `The list of words has ${source.length} characters; it has at most ${LONGEST_LIST}.`;
    return fail(problem('file-too-long', { file }, message));
  }
  const lines = new LineCounter();
  const document = parseDocument(source, { lineCounter: lines });
  const placeAt = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { file, line, column: col };
  };
  const problems: Problem[] = document.errors.map(({ message, pos }) =>
    problem('not-yaml', placeAt(pos[0]), `The list of words cannot be read: ${message.split('\n')[0] ?? ''}`),
  );
  const form = 'It is a list of the form "words of the lab: the same in the other language".';
  if (problems.length > 0) return fail(...problems);
  if (document.contents === null) return succeed(new Map());
  if (!isMap(document.contents)) return fail(problem('wrong-form', placeAt(0), form));
  const words = new Map<string, Word>();
  for (const { key, value } of document.contents.items) {
    const place = placeAt(isScalar(key) ? (key.range?.[0] ?? 0) : 0);
    const [from, to] = [textOf(key), textOf(value)];
    if (from === null || to === null || bare(to) === '') problems.push(problem('wrong-form', place, form));
    else words.set(bare(from), { text: to, place });
  }
  return problems.length > 0 ? fail(...problems) : succeed(words);
}

function textOf(node: unknown): string | null {
  return isScalar(node) && isText(node) ? node.value : null;
}

function isText(node: Scalar): node is Scalar<string> {
  return typeof node.value === 'string';
}

function bare(text: string): string {
  return text.replace(/\s+/gu, ' ').trim();
}

function shortened(text: string): string {
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}
