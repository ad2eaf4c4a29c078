import {
  type Document,
  isAlias,
  isCollection,
  isMap,
  isNode,
  isScalar,
  type Pair,
  Scalar,
  visit,
  type YAMLError,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import type { Place, Problem } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import { nameOfKey, offsetOf, type Places, placeAtOffset } from './yaml-places.ts';

/** Deepest nesting of maps and lists: a lab needs seven levels. */
const DEEPEST = 64;

/** More errors of one file than these help nobody. */
const MOST_ERRORS = 20;

/** The parser's errors in the order of the file, each once: one slip often makes it stumble again and again. */
export function tellErrors(errors: readonly YAMLError[], places: Places): readonly Problem[] {
  const exhausted = errors.find((error) => error.code === 'RESOURCE_EXHAUSTION');
  if (exhausted !== undefined) return [nestedTooDeep(placeAtOffset(places, exhausted.pos[0]))];
  const told = new Map<string, Problem>();
  for (const error of [...errors].sort((a, b) => a.pos[0] - b.pos[0])) {
    const message = notYaml(error);
    const key = `${error.pos[0]} ${message}`;
    if (told.size === MOST_ERRORS && !told.has(key)) break;
    told.set(key, problem('not-yaml', placeAtOffset(places, error.pos[0]), message));
  }
  return [...told.values()];
}

function notYaml(error: YAMLError): string {
  switch (error.code) {
    case 'MULTIPLE_DOCS':
      return 'The file holds several documents with "---" between them; a lab file is one.';
    case 'NON_STRING_KEY':
      return 'A list or map stands here as a key; a key is a word.';
    default:
      return `This is not YAML: ${sentence(error.message)}`;
  }
}

/** The first line of a parser's message, ended as sentences are. */
export function sentence(message: string): string {
  const text = message.split('\n')[0]?.trim() ?? '';
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** Keys that stand twice or would reach into every object, nesting without end, aliases of nothing or of themselves. */
export function findForbidden(document: Document.Parsed, places: Places): readonly Problem[] {
  const problems: Problem[] = [];
  const anchors = new Set<string>();
  visit(document, {
    Node: (_, node, path) => {
      const place = placeAtOffset(places, offsetOf(node));
      const around = path.filter(isCollection);
      if (isAlias(node)) {
        if (!anchors.has(node.source)) problems.push(unknownAlias(node.source, place));
        else if (around.some((outer) => outer.anchor === node.source))
          problems.push(endlessAlias(node.source, place));
        return undefined;
      }
      if (node.anchor !== undefined) anchors.add(node.anchor);
      if (isMap(node)) problems.push(...findForbiddenKeys(node.items, places));
      if (isCollection(node) && node.flow === true) problems.push(...findCutTexts(node, places));
      if (!isCollection(node) || around.length < DEEPEST) return undefined;
      problems.push(nestedTooDeep(place));
      return visit.BREAK;
    },
  });
  return problems;
}

function findForbiddenKeys(items: readonly Pair[], places: Places): readonly Problem[] {
  const seen = new Set<string>();
  return items.flatMap(({ key }): Problem[] => {
    if (!isScalar(key)) return [];
    const name = nameOfKey(key.value);
    const place = placeAtOffset(places, offsetOf(key));
    if (name === '__proto__')
      return [problem('reserved-key', place, '"__proto__" cannot be a key; choose another name.')];
    const isRepeated = seen.has(name);
    seen.add(name);
    if (!isRepeated) return [];
    const message = `"${name}" stands here a second time; a key can stand only once.`;
    return [problem('key-twice', place, message, 'Join the two, or remove one.')];
  });
}

/**
 * Texts that a comma has cut in two: between { and }, or [ and ], "dry(F, v)" without quotes ends at its comma.
 *
 * What betrays them is a bracket that is open at the end of one part.
 */
function findCutTexts(node: YAMLMap | YAMLSeq, places: Places): readonly Problem[] {
  const parts = isMap(node)
    ? node.items.flatMap(({ key, value }) => [{ text: value, rest: key }])
    : node.items.map((item) => ({ text: item, rest: item }));
  return parts.flatMap(({ text }, index): Problem[] => {
    const rest = parts[index + 1]?.rest;
    if (!isScalar(text) || text.type !== Scalar.PLAIN || !isNode(rest)) return [];
    if (!hasOpenBracket(String(text.value))) return [];
    return [
      problem(
        'comma-in-text',
        placeAtOffset(places, offsetOf(text)),
        `"${String(text.value)}" ends at a comma: between { and }, or [ and ], a comma goes on to the next entry.`,
        'Put the whole text in quotes.',
      ),
    ];
  });
}

function hasOpenBracket(text: string): boolean {
  let open = 0;
  for (const character of text) {
    if (character === '(') open += 1;
    else if (character === ')') open -= 1;
  }
  return open > 0;
}

/** Of a file that cannot be real. */
export function nestedTooDeep(place: Place): Problem {
  return problem('nested-too-deep', place, `Lists and maps are nested deeper than ${DEEPEST} levels here.`);
}

function endlessAlias(name: string, place: Place): Problem {
  return problem('not-yaml', place, `The alias *${name} stands inside what it repeats, so it has no end.`);
}

function unknownAlias(name: string, place: Place): Problem {
  return problem(
    'not-yaml',
    place,
    `This is not YAML: the alias *${name} stands before any anchor &${name} that it could repeat.`,
    'A text that begins with * needs quotes.',
  );
}
