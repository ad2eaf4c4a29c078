import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import {
  type EditPlace,
  isPlainList,
  isPlainMap,
  type LabEdit,
  type PlainMap,
  type PlainValue,
  sayPlace,
} from './lab-edit.ts';
import { preferredPosition } from './order-of-keys.ts';

/**
 * What the data of a lab file are after an edit: the measure of what the edit of the text must come to.
 *
 * @returns fails in a sentence where the edit makes no sense: a place that is not there, a key that is there already
 */
export function editData(data: PlainValue, edit: LabEdit): Outcome<PlainValue> {
  switch (edit.kind) {
    case 'set':
      return setAt(data, edit.at, edit.to, edit.at);
    case 'insert':
      return changeAt(data, edit.at, edit.at, (there) => insertInto(there, edit));
    default: {
      const last = edit.at[edit.at.length - 1];
      if (last === undefined) return refuse(edit.at, 'The lab file as a whole stays where it is.');
      return changeAt(data, edit.at.slice(0, -1), edit.at, (parent) => changeChild(parent, last, edit));
    }
  }
}

function setAt(
  data: PlainValue | undefined,
  at: EditPlace,
  to: PlainValue,
  whole: EditPlace,
): Outcome<PlainValue> {
  const [first, ...rest] = at;
  if (first === undefined) return succeed(to);
  if (data === undefined || data === null) {
    const inner = setAt(undefined, rest, to, whole);
    if (!inner.ok) return inner;
    if (typeof first === 'string') return succeed({ [first]: inner.value });
    return first === 0 ? succeed([inner.value]) : missing(whole);
  }
  if (isPlainList(data)) {
    const index = Number(first);
    if (!Number.isInteger(index) || index < 0 || index > data.length) return missing(whole);
    const inner = setAt(data[index], rest, to, whole);
    return inner.ok ? succeed([...data.slice(0, index), inner.value, ...data.slice(index + 1)]) : inner;
  }
  if (!isPlainMap(data)) {
    return refuse(
      whole,
      `"${sayPlace(whole.slice(0, whole.length - at.length))}" is a value; nothing stands in it.`,
    );
  }
  const key = String(first);
  const inner = setAt(Object.hasOwn(data, key) ? data[key] : undefined, rest, to, whole);
  const place = whole.slice(0, whole.length - at.length);
  return inner.ok
    ? succeed(withKey(data, key, inner.value, preferredPosition(place, Object.keys(data), key)))
    : inner;
}

function withKey(map: PlainMap, key: string, value: PlainValue, position: number): PlainMap {
  const entries = Object.entries(map);
  return Object.hasOwn(map, key)
    ? Object.fromEntries(entries.map(([own, old]) => [own, own === key ? value : old]))
    : Object.fromEntries([...entries.slice(0, position), [key, value], ...entries.slice(position)]);
}

/** Changes what stands at a place that must be there; an insertion may also make it. */
function changeAt(
  data: PlainValue | undefined,
  at: EditPlace,
  whole: EditPlace,
  change: (there: PlainValue | undefined) => Outcome<PlainValue>,
): Outcome<PlainValue> {
  const [first, ...rest] = at;
  if (first === undefined) return change(data);
  if (isPlainList(data)) {
    const index = Number(first);
    if (data[index] === undefined) return missing(whole);
    const inner = changeAt(data[index], rest, whole, change);
    return inner.ok ? succeed(data.map((item, own) => (own === index ? inner.value : item))) : inner;
  }
  if (isPlainMap(data) || data === null || data === undefined) {
    const map = isPlainMap(data) ? data : {};
    const key = String(first);
    const inner = changeAt(Object.hasOwn(map, key) ? map[key] : undefined, rest, whole, change);
    const place = whole.slice(0, whole.length - at.length);
    const position = preferredPosition(place, Object.keys(map), key);
    return inner.ok ? succeed(withKey(map, key, inner.value, position)) : inner;
  }
  return missing(whole);
}

function insertInto(
  there: PlainValue | undefined,
  { at, key, index, value }: Extract<LabEdit, { kind: 'insert' }>,
): Outcome<PlainValue> {
  if (key === undefined) {
    if (there !== undefined && there !== null && !isPlainList(there))
      return refuse(at, `"${sayPlace(at)}" is not a list.`);
    const list = isPlainList(there) ? there : [];
    const position = index ?? list.length;
    if (!isPosition(position, list.length)) return missing([...at, position]);
    return succeed([...list.slice(0, position), value, ...list.slice(position)]);
  }
  if (there !== undefined && there !== null && !isPlainMap(there))
    return refuse(at, `"${sayPlace(at)}" has no keys.`);
  const map = isPlainMap(there) ? there : {};
  if (Object.hasOwn(map, key)) return taken([...at, key]);
  const entries = Object.entries(map);
  const position = index ?? entries.length;
  if (!isPosition(position, entries.length)) return missing([...at, position]);
  return succeed(
    Object.fromEntries([...entries.slice(0, position), [key, value], ...entries.slice(position)]),
  );
}

function changeChild(
  parent: PlainValue | undefined,
  child: string | number,
  edit: Exclude<LabEdit, { kind: 'set' | 'insert' }>,
): Outcome<PlainValue> {
  if (isPlainList(parent)) {
    const index = Number(child);
    const item = parent[index];
    if (item === undefined) return missing(edit.at);
    const others = parent.filter((_, own) => own !== index);
    if (edit.kind === 'remove') return succeed(others);
    if (edit.kind === 'rename') return refuse(edit.at, 'An item of a list has no name.');
    if (!isPosition(edit.index, others.length)) return missing(edit.at);
    return succeed([...others.slice(0, edit.index), item, ...others.slice(edit.index)]);
  }
  const key = String(child);
  if (!isPlainMap(parent) || !Object.hasOwn(parent, key)) return missing(edit.at);
  const entries = Object.entries(parent);
  const others = entries.filter(([own]) => own !== key);
  if (edit.kind === 'remove') return succeed(Object.fromEntries(others));
  if (edit.kind === 'rename') {
    if (edit.to !== key && Object.hasOwn(parent, edit.to)) return taken([...edit.at.slice(0, -1), edit.to]);
    return succeed(Object.fromEntries(entries.map(([own, value]) => [own === key ? edit.to : own, value])));
  }
  if (!isPosition(edit.index, others.length)) return missing(edit.at);
  const own = entries.filter(([name]) => name === key);
  return succeed(Object.fromEntries([...others.slice(0, edit.index), ...own, ...others.slice(edit.index)]));
}

function isPosition(index: number, most: number): boolean {
  return Number.isInteger(index) && index >= 0 && index <= most;
}

function refuse(at: EditPlace, message: string) {
  return fail(problem('edit-refused', { step: sayPlace(at) }, message));
}

function missing(at: EditPlace) {
  return refuse(at, `The lab file has no "${sayPlace(at)}".`);
}

function taken(at: EditPlace) {
  return refuse(at, `"${sayPlace(at)}" is there already.`);
}
