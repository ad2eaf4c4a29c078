import { dataAt } from './data-at.ts';
import {
  type EditPlace,
  isPlainList,
  isPlainMap,
  type LabEdit,
  type PlainMap,
  type PlainValue,
  sameData,
} from './lab-edit.ts';
import { preferredPosition } from './order-of-keys.ts';

/**
 * An edit as steps that each change one entry: what stays the same in a map or list is then not written anew, and what
 * is missing is put where it belongs.
 */
export function splitEdit(data: PlainValue, edit: LabEdit): readonly LabEdit[] {
  if (edit.kind === 'set') return splitSet(data, edit.at, edit.to);
  if (edit.kind === 'insert') return splitInsert(data, edit);
  if (edit.kind === 'move' && dataAt(data, edit.at) === undefined) return [];
  return [edit];
}

function splitSet(data: PlainValue, at: EditPlace, to: PlainValue): readonly LabEdit[] {
  const there = dataAt(data, at);
  if (there !== undefined && sameData(there, to)) return [];
  if (there === undefined) return [makeMissing(data, at, to)];
  if (isPlainMap(there) && isPlainMap(to) && Object.keys(there).length > 0 && Object.keys(to).length > 0)
    return splitMap(data, at, there, to);
  if (isPlainList(there) && isPlainList(to) && there.length > 0 && to.length > 0)
    return splitList(data, at, there, to);
  return [{ kind: 'set', at, to }];
}

/** Makes the first part of the way that is missing, with all that stands in it. */
function makeMissing(data: PlainValue, at: EditPlace, to: PlainValue): LabEdit {
  let deepest = at.length - 1;
  while (deepest > 0 && (dataAt(data, at.slice(0, deepest)) ?? null) === null) deepest--;
  const place = at.slice(0, deepest);
  const part = at[deepest];
  const value = at
    .slice(deepest + 1)
    .reduceRight<PlainValue>((inner, key) => (typeof key === 'number' ? [inner] : { [key]: inner }), to);
  const there = dataAt(data, place);
  const isEmpty = isPlainMap(there)
    ? Object.keys(there).length === 0
    : isPlainList(there) && there.length === 0;
  if (there === null || isEmpty) {
    const whole = typeof part === 'number' ? [value] : { [String(part)]: value };
    return { kind: 'set', at: place, to: whole };
  }
  if (isPlainList(there) || typeof part === 'number') {
    return { kind: 'insert', at: place, index: Number(part), value };
  }
  const keys = isPlainMap(there) ? Object.keys(there) : [];
  const key = String(part);
  return { kind: 'insert', at: place, key, index: preferredPosition(place, keys, key), value };
}

/** Keys that go, keys that stay with what changes in them, keys that come; then the order. */
function splitMap(data: PlainValue, at: EditPlace, there: PlainMap, to: PlainMap): readonly LabEdit[] {
  const wanted = Object.keys(to);
  const kept = Object.keys(there).filter((key) => Object.hasOwn(to, key));
  if (kept.length === 0) return [{ kind: 'set', at, to }];
  const steps: LabEdit[] = Object.keys(there)
    .filter((key) => !Object.hasOwn(to, key))
    .map((key) => ({ kind: 'remove', at: [...at, key] }));
  for (const key of kept) steps.push(...splitSet(data, [...at, key], to[key] ?? null));
  const order = [...kept];
  for (const [index, key] of wanted.entries()) {
    const now = order.indexOf(key);
    if (now === index) continue;
    if (now < 0) steps.push({ kind: 'insert', at, key, index, value: to[key] ?? null });
    else steps.push({ kind: 'move', at: [...at, key], index });
    if (now >= 0) order.splice(now, 1);
    order.splice(index, 0, key);
  }
  return steps;
}

/** What is alike at both ends stays; what lies between is changed in its place, and the rest goes or comes. */
function splitList(
  data: PlainValue,
  at: EditPlace,
  there: readonly PlainValue[],
  to: readonly PlainValue[],
): readonly LabEdit[] {
  const least = Math.min(there.length, to.length);
  let alike = 0;
  while (alike < least && sameData(there[alike], to[alike])) alike++;
  let atEnd = 0;
  while (atEnd < least - alike && sameData(there[there.length - 1 - atEnd], to[to.length - 1 - atEnd]))
    atEnd++;
  const [before, after] = [there.length - atEnd, to.length - atEnd];
  const steps: LabEdit[] = [];
  for (let index = alike; index < Math.min(before, after); index++)
    steps.push(...splitSet(data, [...at, index], to[index] ?? null));
  for (let index = before - 1; index >= after; index--) steps.push({ kind: 'remove', at: [...at, index] });
  for (let index = before; index < after; index++)
    steps.push({ kind: 'insert', at, index, value: to[index] ?? null });
  return steps;
}

function splitInsert(data: PlainValue, edit: Extract<LabEdit, { kind: 'insert' }>): readonly LabEdit[] {
  const { at, key, value } = edit;
  const there = dataAt(data, at) ?? null;
  const isEmpty = isPlainMap(there)
    ? Object.keys(there).length === 0
    : isPlainList(there) && there.length === 0;
  if (there === null || isEmpty) {
    const whole = key === undefined ? [value] : { [key]: value };
    return dataAt(data, at) === undefined ? [makeMissing(data, at, whole)] : [{ kind: 'set', at, to: whole }];
  }
  if (edit.index !== undefined || key === undefined || !isPlainMap(there)) return [edit];
  // editData puts a key without a position at the end.
  return [{ ...edit, index: Object.keys(there).length }];
}
