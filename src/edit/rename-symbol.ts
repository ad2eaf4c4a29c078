import {
  CONSTANTS,
  FUNCTIONS,
  isSymbol,
  nodesOf,
  parseEquation,
  parseExpression,
  type Tree,
} from '../expression/index.ts';
import { readDocument, readLab } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { dataAt } from './data-at.ts';
import { editLabText } from './edit-lab-text.ts';
import { isPlainMap, type LabEdit, type PlainValue, sayPlace } from './lab-edit.ts';
import { readTree } from './lab-tree.ts';
import { expressionTextsIn, symbolKeysIn, type WrittenText } from './symbol-places.ts';

/**
 * Gives a symbol another name everywhere: where it is declared, set, listed, and in every expression. Units that are
 * written alike (a mass m, and 2 m) are told apart, and words for readers are left alone.
 *
 * @param text of a lab file
 * @returns fails where the new name is none or is taken, where the old one is not used, where an expression that may
 *          hold it cannot be read, or where the lab would no longer be one
 */
export function renameSymbol(text: string, from: string, to: string): Outcome<string> {
  const tree = readTree(text);
  if (tree === null) {
    const document = readDocument(text, 'lab.yaml');
    return document.ok ? fail(refusal('The file cannot be changed piece by piece.')) : document;
  }
  if (from === to) return succeed(text);
  const bad = whyNotAName(to);
  if (bad !== null) return fail(refusal(bad));
  const keys = symbolKeysIn(tree.data);
  const texts = expressionTextsIn(tree.data);
  const instruments = instrumentsOf(tree.data);
  if (keys.some((at) => at[at.length - 1] === to) || texts.some((written) => uses(written, to)))
    return fail(refusal(`"${to}" is a symbol of this lab already.`));
  const edits: LabEdit[] = [];
  for (const written of texts) {
    if (!hasWord(written.text, from) || isInstrument(written, instruments)) continue;
    const spans = spansOf(written.text, from);
    if (spans === null) {
      const where = sayPlace(written.at);
      return fail(refusal(`"${written.text}" (${where}) cannot be read, so "${from}" is not renamed.`));
    }
    const renamed = spans.reduceRight(
      (own, start) => own.slice(0, start) + to + own.slice(start + from.length),
      written.text,
    );
    if (renamed !== written.text) edits.push({ kind: 'set', at: written.at, to: renamed });
  }
  // Deepest first: the places of what is still to be renamed must not change.
  const ownKeys = keys.filter((at) => at[at.length - 1] === from).sort((a, b) => b.length - a.length);
  edits.push(...ownKeys.map((at): LabEdit => ({ kind: 'rename', at, to })));
  if (edits.length === 0) return fail(refusal(`"${from}" is no symbol of this lab.`));
  const edited = editLabText(text, edits);
  return edited.ok ? checkLab(text, edited.value) : edited;
}

/** A lab that was one must still be one. */
function checkLab(before: string, after: string): Outcome<string> {
  if (!readLab(before, 'lab.yaml').ok) return succeed(after);
  const lab = readLab(after, 'lab.yaml');
  if (lab.ok) return succeed(after);
  const first = lab.problems[0]?.message ?? '';
  return fail(refusal(`Under this name the lab would have a problem: ${first}`));
}

function whyNotAName(name: string): string | null {
  if (!isSymbol(name))
    return `"${name}" cannot be a symbol: it begins with a letter and has letters, digits and _ only.`;
  return CONSTANTS.has(name) || Object.hasOwn(FUNCTIONS, name)
    ? `"${name}" has a meaning of its own in expressions.`
    : null;
}

function instrumentsOf(data: PlainValue): ReadonlySet<string> {
  const instruments = dataAt(data, ['instruments']);
  return new Set(isPlainMap(instruments) ? Object.keys(instruments) : []);
}

/** In the reduction and in what changes it, the name of an instrument stands for its readings. */
function isInstrument({ at, text }: WrittenText, instruments: ReadonlySet<string>): boolean {
  return at.includes('reduction') && instruments.has(text);
}

function hasWord(text: string, name: string): boolean {
  return text.includes(name);
}

function uses(written: WrittenText, name: string): boolean {
  return hasWord(written.text, name) && (spansOf(written.text, name)?.length ?? 0) > 0;
}

/** Offsets at which a text names a symbol, rising; null where it holds the word and is no expression. */
function spansOf(text: string, name: string): readonly number[] | null {
  const whole = parseExpression(text);
  if (whole.ok) return offsetsIn(whole.value.tree, text, name, 0);
  const equation = text.includes('=') ? parseEquation(text) : whole;
  if (!equation.ok) return isWholeWord(text, name) ? null : [];
  if (!('left' in equation.value)) return [];
  const behind = text.indexOf('=') + 1;
  const { left, right } = equation.value;
  return [...offsetsIn(left.tree, text, name, 0), ...offsetsIn(right.tree, text, name, behind)];
}

function offsetsIn(tree: Tree, text: string, name: string, shift: number): readonly number[] {
  const offsets = nodesOf(tree).flatMap((node) =>
    node.kind === 'name' && node.name === name && text.startsWith(name, node.span.start + shift)
      ? [node.span.start + shift]
      : [],
  );
  return [...new Set(offsets)].sort((a, b) => a - b);
}

function isWholeWord(text: string, name: string): boolean {
  return text.split(/[^\p{L}\p{Nd}_\u2080-\u2089]+/u).includes(name);
}

function refusal(message: string) {
  return problem('edit-refused', {}, message);
}
