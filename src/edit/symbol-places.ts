import { type EditPlace, isPlainList, isPlainMap, type PlainValue } from './lab-edit.ts';

/** A text that may be an expression, with the place where it stands. */
export interface WrittenText {
  readonly at: EditPlace;
  readonly text: string;
}

/** Patterns of places whose keys are symbols: `*` is any one part. */
const SYMBOL_KEYS: readonly (readonly string[])[] = [
  ['quantities', '*'],
  ['tables', '*'],
  ['where', '*'],
  ['effects', '*', 'off', '*'],
  ['model', 'start', '*'],
  ['model', 'rates', '*'],
  ['model', 'over', '*'],
  ['model', 'jumps', '*', 'sets', '*'],
  ['reduction', '*', '*', '*', '*', '*'],
  ['results', '*'],
  ['plan', 'settings', '*'],
  ['trials', '*', 'when', '*'],
  ['kits', '*', 'set', '*'],
  ['stations', '*', '*'],
  ['stations', 'drawn', 'values', '*'],
  ['stations', 'pooled', 'results', '*'],
  ['stations', 'pooled', 'across stations', '*', '*', '*', '*'],
  ['slips', '*', 'set', '*'],
  ['slips', '*', 'apparatus', '*'],
  ['slips', '*', 'reported', '*'],
  // Free symbols of a fit that a kit or a slip changes: of a single step, and in a list of its own.
  ...['kits', 'slips'].flatMap((key) =>
    ['free', 'gives'].flatMap((setting) => [
      [key, '*', 'reduction', '*', '*', setting, '*'],
      [key, '*', 'reduction', '*', '*', '*', setting, '*'],
    ]),
  ),
];

/** Patterns of places at which words stand, names of files, units, headings: nothing that is computed. */
const WORDS: readonly (readonly string[])[] = [
  ...['title', 'question', 'about', 'licence'].map((key) => [key]),
  ...['level', 'cautions', 'references'].map((key) => [key, '*']),
  ['quantities', '*', 'is'],
  ['quantities', '*', 'from'],
  ['quantities', '*', 'unit'],
  ['tables', '*', 'is'],
  ['tables', '*', 'from'],
  ['tables', '*', '*', 'unit'],
  ['effects', '*', 'is'],
  ['derivation', '*', 'because'],
  ['instruments', '*', 'kind'],
  ['results', '*', 'is'],
  ['results', '*', 'unit'],
  ...['name', 'file', 'sheet', 'set aside', 'note'].map((key) => ['trials', '*', key]),
  ['trials', '*', 'reads', '*'],
  ['trials', '*', 'reads', '*', '*'],
  ['trials', '*', 'as read', '*'],
  ['trials', '*', 'as read', '*', '*'],
  ['kits', '*', 'is'],
  ['kits', '*', 'with', '*'],
  ['kits', '*', 'set', '*', 'from'],
  ['kits', '*', 'instruments', '*', 'kind'],
  ['stations', 'pooled', 'results', '*', 'is'],
  ['stations', 'pooled', 'results', '*', 'unit'],
  ['slips', '*', 'is'],
  ['slips', '*', 'helps'],
];

/** Stations have names, which are no symbols, beside these two keys. */
const NOT_STATIONS: ReadonlySet<string | number> = new Set(['drawn', 'pooled']);

function matches(at: EditPlace, pattern: readonly string[]): boolean {
  return at.length === pattern.length && pattern.every((part, index) => part === '*' || part === at[index]);
}

/** Whether the last part of a place is a key that is a symbol. */
export function isSymbolKey(at: EditPlace): boolean {
  if (typeof at[at.length - 1] !== 'string') return false;
  if (at.length === 3 && at[0] === 'stations' && NOT_STATIONS.has(at[1] ?? '')) return false;
  return SYMBOL_KEYS.some((pattern) => matches(at, pattern));
}

/** Every place of the data at which a key is a symbol. */
export function symbolKeysIn(data: PlainValue, at: EditPlace = []): readonly EditPlace[] {
  return innerPlaces(data, at).flatMap(({ at: inner, value }) => [
    ...(isSymbolKey(inner) ? [inner] : []),
    ...symbolKeysIn(value, inner),
  ]);
}

/** Whether a place holds words, a name or a unit, and no expression. */
export function holdsWords(at: EditPlace): boolean {
  return WORDS.some((pattern) => matches(at, pattern));
}

/** Every text of the data that may be an expression: all but words, names of files, units and headings. */
export function expressionTextsIn(data: PlainValue, at: EditPlace = []): readonly WrittenText[] {
  if (typeof data === 'string') return holdsWords(at) ? [] : [{ at, text: data }];
  return innerPlaces(data, at).flatMap(({ at: inner, value }) => expressionTextsIn(value, inner));
}

function innerPlaces(
  data: PlainValue,
  at: EditPlace,
): readonly { readonly at: EditPlace; readonly value: PlainValue }[] {
  if (isPlainList(data)) return data.map((value, index) => ({ at: [...at, index], value }));
  return isPlainMap(data) ? Object.entries(data).map(([key, value]) => ({ at: [...at, key], value })) : [];
}
