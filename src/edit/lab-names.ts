import { FUNCTIONS } from '../expression/index.ts';
import { unitTable } from '../quantity/index.ts';
import { dataAt } from './data-at.ts';
import { isPlainMap, type PlainValue } from './lab-edit.ts';

/** A name that may be written, with what it stands for. */
export interface KnownName {
  readonly name: string;
  readonly kind: 'quantity' | 'helper' | 'state' | 'result' | 'instrument' | 'function' | 'unit' | 'symbol';
  readonly what: string;
}

function entriesAt(data: PlainValue, ...at: readonly string[]): readonly (readonly [string, PlainValue])[] {
  const there = dataAt(data, at);
  return isPlainMap(there) ? Object.entries(there) : [];
}

function wordsOf(value: PlainValue, ...keys: readonly string[]): string {
  const parts = keys
    .map((key) => dataAt(value, [key]))
    .filter((part) => typeof part === 'string' || typeof part === 'number');
  return parts.join(', ');
}

/** The quantities of the lab. */
export function quantitiesIn(data: PlainValue): readonly KnownName[] {
  return entriesAt(data, 'quantities').map(([name, value]) => ({
    name,
    kind: 'quantity',
    what: wordsOf(value, 'is', 'value', 'equals'),
  }));
}

/** What an expression may name: quantities, helpers, states, results. */
export function symbolsIn(data: PlainValue): readonly KnownName[] {
  const helpers = entriesAt(data, 'where').map(
    ([name, value]): KnownName => ({ name, kind: 'helper', what: String(value) }),
  );
  const states = [...entriesAt(data, 'model', 'rates'), ...entriesAt(data, 'model', 'start')].map(
    ([name]): KnownName => ({ name, kind: 'state', what: 'a state of the model' }),
  );
  const controls = entriesAt(data, 'model', 'over').map(
    ([name]): KnownName => ({ name, kind: 'state', what: 'what the relation is read against' }),
  );
  const results = entriesAt(data, 'results').map(
    ([name, value]): KnownName => ({ name, kind: 'result', what: wordsOf(value, 'is', 'unit') }),
  );
  const all = [...quantitiesIn(data), ...helpers, ...states, ...controls, ...results];
  return [...new Map([...all].reverse().map((one) => [one.name, one])).values()].reverse();
}

export function instrumentsIn(data: PlainValue): readonly KnownName[] {
  return entriesAt(data, 'instruments').map(([name, value]) => ({
    name,
    kind: 'instrument',
    what: wordsOf(value, 'kind'),
  }));
}

/** The functions of the language. */
export const FUNCTION_NAMES: readonly KnownName[] = Object.entries(FUNCTIONS).map(
  ([name, { signature, meaning }]) => ({
    name,
    kind: 'function',
    what: `${signature}: ${meaning}`,
  }),
);

/** Prefixes that are offered; every other one is read as well. */
const USUAL_PREFIXES: readonly (readonly [string, string])[] = [
  ['', ''],
  ['k', 'kilo'],
  ['c', 'centi'],
  ['m', 'milli'],
  ['µ', 'micro'],
];

/** Units with the prefixes that are usual in school labs. */
export const UNIT_NAMES: readonly KnownName[] = unitTable.flatMap(({ symbol, name, prefixes }) =>
  USUAL_PREFIXES.filter(([prefix]) =>
    prefix === ''
      ? true
      : prefixes === 'all'
        ? prefix !== 'c' || symbol === 'm'
        : prefixes?.includes(prefix) === true,
  ).map(
    ([prefix, word]): KnownName => ({ name: `${prefix}${symbol}`, kind: 'unit', what: `${word}${name}` }),
  ),
);
