import { CONSTANTS, FUNCTIONS, isSymbol } from '../expression/index.ts';
import { readDocument, readLab } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { dataAt } from './data-at.ts';
import { editLabText } from './edit-lab-text.ts';
import { isPlainMap, type LabEdit, type PlainValue, sayPlace } from './lab-edit.ts';
import { readTree } from './lab-tree.ts';
import { renameIn, symbolOffsets } from './symbol-offsets.ts';
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
    if (!written.text.includes(from) || isInstrument(written, instruments)) continue;
    const renamed = renameIn(written.text, from, to);
    if (renamed === null) {
      const where = sayPlace(written.at);
      return fail(refusal(`"${written.text}" (${where}) cannot be read, so "${from}" is not renamed.`));
    }
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

function uses(written: WrittenText, name: string): boolean {
  return written.text.includes(name) && (symbolOffsets(written.text, name)?.length ?? 0) > 0;
}

function refusal(message: string) {
  return problem('edit-refused', {}, message);
}
