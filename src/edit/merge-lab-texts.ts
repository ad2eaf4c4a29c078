import { editLabText } from './edit-lab-text.ts';
import { sameData } from './lab-edit.ts';
import { readTree } from './lab-tree.ts';
import { type LabClash, mergeData } from './merge-data.ts';
import { mergeLines } from './merge-lines.ts';

/** Two texts of a lab file made into one. */
export interface MergedLab {
  readonly text: string;
  /** Places that both changed in different ways: the text has `theirs`, and nothing of `mine` is lost. */
  readonly clashes: readonly LabClash[];
}

/**
 * Two changed texts of a lab file that come from the same one, made into one: what only one of them changed is taken
 * from it, value by value, even where the values stand in one line. Comments and layout follow where lines can.
 *
 * @param base   the text that both come from
 * @param mine   the text of the page
 * @param theirs the text of the file now
 * @returns a text that is YAML where `theirs` is; where one of the three is not, and lines alone do not merge, the whole
 *          text is a clash
 */
export function mergeLabTexts(base: string, mine: string, theirs: string): MergedLab {
  if (mine === theirs || mine === base) return { text: theirs, clashes: [] };
  if (theirs === base) return { text: mine, clashes: [] };
  const lines = mergeLines(base, mine, theirs);
  const [ofBase, ofMine, ofTheirs] = [readTree(base), readTree(mine), readTree(theirs)];
  if (ofBase === null || ofMine === null || ofTheirs === null) {
    return lines.isClean ? { text: lines.text, clashes: [] } : wholeClash(mine, theirs);
  }
  const { value, clashes } = mergeData(ofBase.data, ofMine.data, ofTheirs.data);
  if (value === undefined) return wholeClash(mine, theirs);
  // Lines bring comments along; what they did not bring is set, on the lines or else on the file as it is.
  for (const text of [lines.text, theirs]) {
    const tree = readTree(text);
    if (tree === null) continue;
    if (sameData(tree.data, value)) return { text, clashes };
    const edited = editLabText(text, [{ kind: 'set', at: [], to: value }]);
    if (edited.ok) return { text: edited.value, clashes };
  }
  return wholeClash(mine, theirs);
}

function wholeClash(mine: string, theirs: string): MergedLab {
  return { text: theirs, clashes: [{ at: [], mine, theirs }] };
}
