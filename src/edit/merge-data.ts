import {
  type EditPlace,
  isPlainList,
  isPlainMap,
  type PlainMap,
  type PlainValue,
  sameData,
} from './lab-edit.ts';

/** A place that both changed in different ways; `undefined` where it was taken away or never was. */
export interface LabClash {
  readonly at: EditPlace;
  readonly mine: PlainValue | undefined;
  readonly theirs: PlainValue | undefined;
}

type Maybe = PlainValue | undefined;

/**
 * Two data that come from the same ones: what only one of them changed is taken from it, place by place.
 *
 * @returns the data, in which `theirs` stands where both changed a place in different ways, and those places
 */
export function mergeData(
  base: Maybe,
  mine: Maybe,
  theirs: Maybe,
  at: EditPlace = [],
): { readonly value: Maybe; readonly clashes: readonly LabClash[] } {
  if (alike(mine, theirs) || alike(mine, base)) return { value: theirs, clashes: [] };
  if (alike(theirs, base)) return { value: mine, clashes: [] };
  if (isPlainMap(mine) && isPlainMap(theirs))
    return mergeMaps(isPlainMap(base) ? base : {}, mine, theirs, at);
  if (isPlainList(mine) && isPlainList(theirs) && isPlainList(base)) {
    const merged = mergeLists(base, mine, theirs, at);
    if (merged !== null) return merged;
  }
  return { value: theirs, clashes: [{ at, mine, theirs }] };
}

function alike(a: Maybe, b: Maybe): boolean {
  return a === undefined || b === undefined ? a === b : sameData(a, b);
}

function own(map: PlainMap, key: string): Maybe {
  return Object.hasOwn(map, key) ? map[key] : undefined;
}

function mergeMaps(base: PlainMap, mine: PlainMap, theirs: PlainMap, at: EditPlace) {
  const clashes: LabClash[] = [];
  const entries: [string, PlainValue][] = [];
  for (const key of orderOf(Object.keys(base), Object.keys(mine), Object.keys(theirs))) {
    const merged = mergeData(own(base, key), own(mine, key), own(theirs, key), [...at, key]);
    clashes.push(...merged.clashes);
    if (merged.value !== undefined) entries.push([key, merged.value]);
  }
  return { value: Object.fromEntries(entries), clashes };
}

/** The order that was changed; keys that only the other has go behind the key that they follow there. */
function orderOf(
  base: readonly string[],
  mine: readonly string[],
  theirs: readonly string[],
): readonly string[] {
  const common = (keys: readonly string[], other: readonly string[]) =>
    keys.filter((key) => other.includes(key));
  const isMovedByMe = common(mine, base).join('\0') !== common(base, mine).join('\0');
  const [first, second] = isMovedByMe ? [mine, theirs] : [theirs, mine];
  const order = [...first];
  for (const [index, key] of second.entries()) {
    if (order.includes(key)) continue;
    const before = second.slice(0, index).findLast((other) => order.includes(other));
    order.splice(before === undefined ? 0 : order.indexOf(before) + 1, 0, key);
  }
  return order;
}

/** Lists in which each was only added to at its end, or that stayed as long as they were; null for all others. */
function mergeLists(
  base: readonly PlainValue[],
  mine: readonly PlainValue[],
  theirs: readonly PlainValue[],
  at: EditPlace,
) {
  if (mine.length < base.length || theirs.length < base.length) return null;
  // What was put in between moved what stood behind it: then position says nothing any more.
  if (movesItems(base, mine) || movesItems(base, theirs)) return null;
  const clashes: LabClash[] = [];
  const items = base.map((item, index) => {
    const merged = mergeData(item, mine[index], theirs[index], [...at, index]);
    clashes.push(...merged.clashes);
    return merged.value ?? null;
  });
  const [added, others] = [mine.slice(base.length), theirs.slice(base.length)];
  const news = added.filter((item) => !others.some((other) => sameData(item, other)));
  return { value: [...items, ...others, ...news], clashes };
}

function movesItems(base: readonly PlainValue[], after: readonly PlainValue[]): boolean {
  return base.some(
    (item, index) =>
      !sameData(item, after[index]) &&
      typeof item === 'object' &&
      after.some((other, position) => position !== index && sameData(item, other)),
  );
}
