import { placeAt } from './cursor-place.ts';
import { dataAt } from './data-at.ts';
import { FUNCTION_NAMES, instrumentsIn, symbolsIn } from './lab-names.ts';
import { readTolerantly } from './read-tolerantly.ts';
import { descriptionOf, keysAt, schemaAt } from './schema-walk.ts';
import { holdsWords } from './symbol-places.ts';

/** What stands at a place of a lab file, for a reader who points at it. */
export interface Explanation {
  readonly from: number;
  readonly to: number;
  readonly name: string;
  readonly what: string;
}

/**
 * What the key, symbol or function under an offset of a lab file says.
 *
 * @returns null where there is nothing to say
 */
export function explainLab(text: string, offset: number): Explanation | null {
  const place = placeAt(text, offset);
  if (place === null) return null;
  const data = readTolerantly(text);
  const { at, from, to } = place;
  if (place.kind === 'key') {
    const name = String(at[at.length - 1] ?? '');
    const own = keysAt(data, at.slice(0, -1)).find((key) => key.name === name);
    const says = own?.what ?? '';
    const known = symbolsIn(data).find((symbol) => symbol.name === name && dataAt(data, at) !== undefined);
    const what = says !== '' ? says : (known?.what ?? descriptionOf(schemaAt(data, at)));
    return what === '' ? null : { from, to, name, what };
  }
  if (holdsWords(at)) return null;
  const word = wordAt(text, offset, from, to);
  if (word === null) return null;
  const names = [...symbolsIn(data), ...FUNCTION_NAMES, ...instrumentsIn(data)];
  const found = names.find(({ name }) => name === word.name);
  return found === undefined || found.what === '' ? null : { ...word, what: found.what };
}

function wordAt(text: string, offset: number, least: number, most: number) {
  const letters = /[\p{L}\p{Nd}_\u2080-\u2089]/u;
  let [from, to] = [offset, offset];
  while (from > least && letters.test(text[from - 1] ?? '')) from--;
  while (to < most && letters.test(text[to] ?? '')) to++;
  return from === to ? null : { from, to, name: text.slice(from, to) };
}
