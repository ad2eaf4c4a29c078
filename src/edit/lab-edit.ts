/** Where something stands in the lab file: the keys, and the positions in lists, that lead to it. */
export type EditPlace = readonly (string | number)[];

/** Data as a lab file holds them. */
export type PlainValue =
  | string
  | number
  | boolean
  | null
  | readonly PlainValue[]
  | { readonly [key: string]: PlainValue };

/** A map of plain data. */
export type PlainMap = { readonly [key: string]: PlainValue };

/** One change of a lab file. */
export type LabEdit =
  /** Gives a place a value; what is missing on the way is made. Position `length` of a list is behind its end. */
  | { readonly kind: 'set'; readonly at: EditPlace; readonly to: PlainValue }
  /** Takes a key with its value, or an item of a list, away. */
  | { readonly kind: 'remove'; readonly at: EditPlace }
  /** Gives a key another name, at its place in the order. */
  | { readonly kind: 'rename'; readonly at: EditPlace; readonly to: string }
  /** Puts a new key into the map `at`, or a new item into the list `at`; at the end where `index` is left out. */
  | {
      readonly kind: 'insert';
      readonly at: EditPlace;
      readonly key?: string;
      readonly index?: number;
      readonly value: PlainValue;
    }
  /** Moves a key or an item to another position among its neighbours. */
  | { readonly kind: 'move'; readonly at: EditPlace; readonly index: number };

export function isPlainMap(value: PlainValue | undefined): value is PlainMap {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function isPlainList(value: PlainValue | undefined): value is readonly PlainValue[] {
  return Array.isArray(value);
}

/** Whether two data are the same, the order of keys included. */
export function sameData(a: PlainValue | undefined, b: PlainValue | undefined): boolean {
  if (isPlainList(a) && isPlainList(b))
    return a.length === b.length && a.every((item, index) => sameData(item, b[index]));
  if (isPlainMap(a) && isPlainMap(b)) {
    const [ofA, ofB] = [Object.entries(a), Object.entries(b)];
    return (
      ofA.length === ofB.length &&
      ofA.every(([key, value], index) => key === ofB[index]?.[0] && sameData(value, ofB[index]?.[1]))
    );
  }
  return Object.is(a, b);
}

/** The place as people read it: 'quantities, L, value'; positions count from 1. */
export function sayPlace(at: EditPlace): string {
  return at.map((part) => (typeof part === 'number' ? String(part + 1) : part)).join(', ');
}
