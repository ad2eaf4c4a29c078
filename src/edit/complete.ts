import { placeOfCursor } from './cursor-place.ts';
import type { EditPlace, PlainValue } from './lab-edit.ts';
import {
  FUNCTION_NAMES,
  instrumentsIn,
  type KnownName,
  quantitiesIn,
  symbolsIn,
  UNIT_NAMES,
} from './lab-names.ts';
import { readTolerantly } from './read-tolerantly.ts';
import { choicesAt, keysAt } from './schema-walk.ts';
import { holdsWords, isSymbolKey } from './symbol-places.ts';

/** Something that may be written at the cursor. */
export interface Completion {
  readonly label: string;
  /** What is put in the place of what is written: a key with its colon, a function with its bracket. */
  readonly insert: string;
  readonly kind: KnownName['kind'] | 'key' | 'word';
  /** What it says, a sentence or a few words. */
  readonly what: string;
}

/** What may be written at a cursor, in place of the text between two offsets. */
export interface Completions {
  readonly from: number;
  readonly to: number;
  readonly items: readonly Completion[];
}

/**
 * What may be written at a place of a lab file: keys with what they say, words that a value may be, symbols,
 * functions and units. The text may be half written.
 *
 * @param offset of the cursor, in UTF-16 units
 * @returns null where nothing is known: in comments, and in words for readers
 */
export function completeLab(text: string, offset: number): Completions | null {
  const place = placeOfCursor(text, offset);
  if (place === null) return null;
  const data = readTolerantly(text);
  if (place.kind === 'key') {
    const items = keyItems(data, place.at).filter(({ label }) => !place.keys.includes(label));
    return offer(items, place.written, offset);
  }
  const { written } = place;
  const unit = /(?:^|\s)[-+]?[0-9][0-9.,]*(?:[eE][-+]?[0-9]+)?\s+(?:[^\s+()-]*[*/])?([^\s+*/^()-]*)$/.exec(
    written,
  )?.[1];
  const isUnit = place.at[place.at.length - 1] === 'unit';
  if (isUnit || (unit !== undefined && !holdsWords(place.at))) {
    const begun = isUnit ? (/[^\s*/^()-]*$/.exec(written)?.[0] ?? '') : (unit ?? '');
    return offer(UNIT_NAMES.map(nameItem), begun, offset);
  }
  const choices = choicesAt(data, place.at);
  if (choices.length > 0) {
    const items = choices.map((label): Completion => ({ label, insert: label, kind: 'word', what: '' }));
    return offer(items, written.trimStart(), offset);
  }
  if (holdsWords(place.at) || place.at.length < 2) return null;
  const names = [
    ...symbolsIn(data),
    ...(place.at[0] === 'reduction' ? instrumentsIn(data) : []),
    ...FUNCTION_NAMES,
  ];
  const begun = /[\p{L}_][\p{L}\p{Nd}_\u2080-\u2089]*$/u.exec(written)?.[0] ?? '';
  return offer(names.map(nameItem), begun, offset);
}

/** Keys that may stand in the map at a place: those of the form, or symbols and names of the lab. */
function keyItems(data: PlainValue, at: EditPlace): readonly Completion[] {
  const known = keysAt(data, at).map(
    ({ name, what }): Completion => ({ label: name, insert: `${name}: `, kind: 'key', what }),
  );
  const isNewName = at.length === 1 || at[0] === 'where';
  const names = isNewName
    ? []
    : at[0] === 'trials' && at[at.length - 1] === 'reads'
      ? instrumentsIn(data)
      : isSymbolKey([...at, '']) && known.length === 0
        ? at[0] === 'model'
          ? symbolsIn(data).filter(({ kind }) => kind === 'state')
          : quantitiesIn(data)
        : [];
  return [...known, ...names.map((name): Completion => ({ ...nameItem(name), insert: `${name.name}: ` }))];
}

function nameItem({ name, kind, what }: KnownName): Completion {
  return { label: name, insert: kind === 'function' ? `${name}(` : name, kind, what };
}

/** Those that begin with what is written, letters alike whether large or small; all of them where nothing is. */
function offer(items: readonly Completion[], begun: string, offset: number): Completions | null {
  const wanted = begun.toLowerCase();
  const fitting = items.filter(({ label }) => label.toLowerCase().startsWith(wanted));
  // What is written out in full needs no help, but for units: m may go on to mm.
  if (fitting.length === 0 || (fitting.length === 1 && fitting[0]?.label === begun)) return null;
  return { from: offset - begun.length, to: offset, items: fitting };
}
