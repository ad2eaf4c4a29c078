import { isMap, isSeq } from 'yaml';
import { readDocument } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { editData } from './edit-data.ts';
import { insertEntry } from './insert-entry.ts';
import { keepColumns } from './keep-columns.ts';
import { type EditPlace, type LabEdit, sameData, sayPlace } from './lab-edit.ts';
import { type Collection, isCollection, type LabTree, nodeAt, positionIn, readTree } from './lab-tree.ts';
import { moveEntry } from './move-entry.ts';
import { applyPatches, lineBreakOf, type Patch } from './patch.ts';
import { removeEntry } from './remove-entry.ts';
import { parentOf, replaceValue } from './replace-value.ts';
import { splitEdit } from './split-edit.ts';
import { writeKey } from './write-scalar.ts';

/**
 * Changes the text of a lab file: only the stretches that an edit is about; comments, order, quoting, brackets or lines,
 * and columns stay as they are. Each result is read again, and must hold exactly the data that the edit asks for.
 *
 * @param text  of a lab file; it must be YAML, but need not be a lab without problems
 * @param edits one after another, each seeing what those before it left
 * @returns the new text; fails where the text is not YAML, or with the first edit that cannot be made, in a sentence
 */
export function editLabText(text: string, edits: readonly LabEdit[]): Outcome<string> {
  let tree = readTree(text);
  if (tree === null) {
    const document = readDocument(text, 'lab.yaml');
    return document.ok ? fail(notEditable([])) : document;
  }
  for (const edit of edits) {
    const wanted = editData(tree.data, edit);
    if (!wanted.ok) return wanted;
    for (const step of splitEdit(tree.data, edit)) {
      const next = makeEdit(tree, step);
      if (!next.ok) return next;
      tree = next.value;
    }
    if (!sameData(tree.data, wanted.value)) return fail(notEditable(edit.at));
  }
  return succeed(tree.text);
}

/** Makes one edit that needs no other, and reads the result. */
function makeEdit(tree: LabTree, edit: LabEdit): Outcome<LabTree> {
  const wanted = editData(tree.data, edit);
  if (!wanted.ok) return wanted;
  const patches = patchesFor(tree, edit);
  if (patches === null) return fail(notEditable(edit.at));
  const lineBreak = lineBreakOf(tree.text);
  const [only, ...others] = patches;
  const whole = only !== undefined && others.length === 0 ? keepColumns(tree.text, only) : patches;
  const inItsBreaks = whole.map((patch) => ({ ...patch, text: patch.text.replace(/\r?\n/g, lineBreak) }));
  const next = readTree(applyPatches(tree.text, inItsBreaks));
  return next !== null && sameData(next.data, wanted.value) ? succeed(next) : fail(notEditable(edit.at));
}

/** What an edit changes in the text; null where it cannot be told from the rest. */
function patchesFor(tree: LabTree, edit: LabEdit): readonly Patch[] | null {
  const { text } = tree;
  if (edit.kind === 'insert') return patchesForInsert(tree, edit);
  const last = edit.at[edit.at.length - 1];
  const above = collectionAt(tree, edit.at.slice(0, -1));
  const parent = above === null ? null : parentOf(above, text);
  const index = above === null || last === undefined ? -1 : positionIn(above, last);
  const entry = parent?.entries[index];
  if (parent === null || entry === undefined) return null;
  switch (edit.kind) {
    case 'set':
      return replaceValue(text, parent, index, edit.to);
    case 'remove':
      return removeEntry(text, parent, index);
    case 'move':
      return moveEntry(text, parent, index, edit.index);
    case 'rename': {
      const range = entry.key?.range;
      if (!range) return null;
      return keepColumnOfValue(text, { from: range[0], to: range[1], text: writeKey(edit.to, entry.key) });
    }
  }
}

/** A key of another length leaves its value in the column of its neighbours'. */
function keepColumnOfValue(text: string, patch: Patch): readonly Patch[] {
  const blanks = /^:( {2,})/.exec(text.slice(patch.to))?.[1]?.length;
  if (blanks === undefined) return [patch];
  const longer = patch.text.length - (patch.to - patch.from);
  const from = patch.to + 1;
  return [patch, { from, to: from + blanks, text: ' '.repeat(Math.max(1, blanks - longer)) }];
}

function patchesForInsert(
  tree: LabTree,
  { at, key, index, value }: Extract<LabEdit, { kind: 'insert' }>,
): readonly Patch[] | null {
  const collection = collectionAt(tree, at);
  const parent = collection === null ? null : parentOf(collection, tree.text);
  if (collection === null || parent === null) return null;
  if (isMap(collection) ? key === undefined : !isSeq(collection) || key !== undefined) return null;
  return insertEntry(tree.text, parent, key ?? null, index ?? parent.entries.length, value);
}

function collectionAt(tree: LabTree, at: EditPlace): Collection | null {
  const node = nodeAt(tree, at);
  return isCollection(node) ? node : null;
}

function notEditable(at: EditPlace) {
  return problem(
    'edit-refused',
    { step: sayPlace(at) },
    `"${sayPlace(at)}" cannot be changed here without changing other parts of the file.`,
    'Change it in the text.',
  );
}
