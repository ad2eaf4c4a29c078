import { type EditPlace, editLabText, type LabEdit, type PlainValue } from '../../src/edit/index.ts';
import { readDocument } from '../../src/lab/index.ts';
import { LAB_FILE } from './lab-file.ts';
import { isRecord, plainAt } from './plain.ts';

export { type EditPlace, editLabText, type LabEdit, type PlainValue } from '../../src/edit/index.ts';

/** A place that was changed on both sides, each in its own way; undefined where a side took it out. */
export interface LabClash {
  readonly at: EditPlace;
  readonly mine: PlainValue | undefined;
  readonly theirs: PlainValue | undefined;
}

/**
 * Brings two sets of changes to one lab file together: theirs, with mine made on top, key by key.
 *
 * @returns the merged text, with mine wherever both changed the same place; the whole file is one place where a text
 * is not YAML
 */
export function mergeLabTexts(
  base: string,
  mine: string,
  theirs: string,
): { readonly text: string; readonly clashes: readonly LabClash[] } {
  if (base === theirs || mine === theirs) return { text: mine, clashes: [] };
  if (base === mine) return { text: theirs, clashes: [] };
  const whole = { text: mine, clashes: [{ at: [], mine: undefined, theirs: undefined }] };
  const [from, own, other] = [base, mine, theirs].map(dataOf);
  if (from === undefined || own === undefined || other === undefined) return whole;
  const edits = changesBetween(from, own, []);
  const merged = editLabText(theirs, edits);
  if (!merged.ok) return whole;
  const clashes = edits.flatMap(({ at }): LabClash[] => {
    const [before, here, there] = [from, own, other].map((data) => plainValueAt(data, at));
    return isSame(before, there) || isSame(here, there) ? [] : [{ at, mine: here, theirs: there }];
  });
  return { text: merged.value, clashes };
}

function dataOf(text: string): unknown {
  const document = readDocument(text, LAB_FILE);
  return document.ok ? document.value.data : undefined;
}

/** What makes one map of another; lists are changed as a whole. */
function changesBetween(
  from: unknown,
  to: unknown,
  at: EditPlace,
): readonly (LabEdit & { readonly kind: 'set' | 'remove' })[] {
  if (isSame(from, to)) return [];
  if (isRecord(from) && isRecord(to)) {
    const keys = new Set([...Object.keys(from), ...Object.keys(to)]);
    return [...keys].flatMap((key) => changesBetween(from[key], to[key], [...at, key]));
  }
  const value = toPlainValue(to);
  return [value === undefined ? { kind: 'remove', at } : { kind: 'set', at, to: value }];
}

function plainValueAt(data: unknown, at: EditPlace): PlainValue | undefined {
  return toPlainValue(plainAt(data, at));
}

function toPlainValue(value: unknown): PlainValue | undefined {
  if (value === null || typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
    return value;
  if (Array.isArray(value)) return value.map((item) => toPlainValue(item) ?? null);
  if (!isRecord(value)) return undefined;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, toPlainValue(item) ?? null]));
}

function isSame(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}
