import { readDocument } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { acrossRunsSteps, eachRunSteps } from '../reduction/index.ts';
import { dataAt } from './data-at.ts';
import { editLabText } from './edit-lab-text.ts';
import { type EditPlace, isPlainList, isPlainMap, type LabEdit, type PlainValue } from './lab-edit.ts';
import { readTree } from './lab-tree.ts';

/**
 * Gives an instrument, a kit, an effect, a station or anything else that has a name of the author's another one,
 * wherever the lab file speaks of it: steps that read an instrument, columns of trials, what kits and slips change.
 * Symbols are renamed by `renameSymbol`.
 *
 * @param text of a lab file
 * @param at   place of the entry: ['instruments', 'wheel gate']
 * @returns fails where there is no such entry, where the new name is empty, or where a neighbour has it
 */
export function renameEntry(text: string, at: EditPlace, to: string): Outcome<string> {
  const tree = readTree(text);
  if (tree === null) {
    const document = readDocument(text, 'lab.yaml');
    return document.ok ? refuse('The file cannot be changed piece by piece.') : document;
  }
  const from = at[at.length - 1];
  const neighbours = dataAt(tree.data, at.slice(0, -1));
  if (typeof from !== 'string' || !isPlainMap(neighbours) || !Object.hasOwn(neighbours, from))
    return refuse('There is nothing of this name to be renamed.');
  if (to.trim() === '') return refuse(`"${from}" needs a name.`);
  if (to === from) return succeed(text);
  if (Object.hasOwn(neighbours, to)) return refuse(`"${to}" is there already.`);
  const mentions =
    at.length !== 2
      ? []
      : at[0] === 'instruments'
        ? mentionsOfInstrument(tree.data, from, to)
        : mentionsOfKit(tree.data, at, from, to);
  return editLabText(text, [...mentions, { kind: 'rename', at, to }]);
}

function mentionsOfInstrument(data: PlainValue, from: string, to: string): readonly LabEdit[] {
  const keyed: readonly EditPlace[] = [
    ...placesIn(data, ['trials']).map((at) => [...at, 'reads', from]),
    ...placesIn(data, ['kits']).map((at) => [...at, 'instruments', from]),
    ...placesIn(data, ['slips']).flatMap((at) => [
      [...at, 'instruments', from],
      [...at, 'readings', from],
    ]),
  ];
  const reductions: readonly EditPlace[] = [
    ['reduction'],
    ...placesIn(data, ['kits']).map((at) => [...at, 'reduction']),
    ...placesIn(data, ['slips']).map((at) => [...at, 'reduction']),
  ];
  return [
    ...reductions
      .flatMap((at) => ['each run', 'across runs'].map((part) => [...at, part]))
      .flatMap((part) => stepsIn(data, part))
      .flatMap(({ at, name }) => settingsOf(name).map((setting) => [...at, setting]))
      .filter((at) => dataAt(data, at) === from)
      .map((at): LabEdit => ({ kind: 'set', at, to })),
    ...keyed
      .filter((at) => dataAt(data, at) !== undefined)
      .map((at): LabEdit => ({ kind: 'rename', at, to })),
  ];
}

/** Kits name those that they may be combined with. */
function mentionsOfKit(data: PlainValue, at: EditPlace, from: string, to: string): readonly LabEdit[] {
  if (at[0] !== 'kits') return [];
  return placesIn(data, ['kits'])
    .flatMap((kit) => placesIn(data, [...kit, 'with']))
    .filter((place) => dataAt(data, place) === from)
    .map((place) => ({ kind: 'set', at: place, to }));
}

/** The steps of a list, or of a map of changes, each with the place of its settings. */
function stepsIn(
  data: PlainValue,
  at: EditPlace,
): readonly { readonly at: EditPlace; readonly name: string }[] {
  const part = dataAt(data, at);
  if (isPlainList(part)) {
    return part.flatMap((step, index) =>
      isPlainMap(step) ? Object.keys(step).map((name) => ({ at: [...at, index, name], name })) : [],
    );
  }
  // The second step of a name is called 'keep 2' where it is changed.
  return isPlainMap(part)
    ? Object.keys(part).map((key) => ({ at: [...at, key], name: key.replace(/ \d+$/, '') }))
    : [];
}

/** The settings of a step that are names of instruments. */
function settingsOf(step: string): readonly string[] {
  const settings = (eachRunSteps.get(step) ?? acrossRunsSteps.get(step))?.settings ?? [];
  return settings.filter(({ kind }) => kind === 'instrument').map(({ name }) => name);
}

function placesIn(data: PlainValue, at: EditPlace): readonly EditPlace[] {
  const there = dataAt(data, at);
  if (isPlainList(there)) return there.map((_, index) => [...at, index]);
  return isPlainMap(there) ? Object.keys(there).map((key) => [...at, key]) : [];
}

function refuse(message: string): Outcome<never> {
  return fail(problem('edit-refused', {}, message));
}
