import type { EditPlace, LabEdit } from '../../src/edit/index.ts';
import { isRecord, plainAt } from './plain.ts';

/**
 * The edit that takes an entry out, and with it the maps and lists around it that would be left empty.
 *
 * @param within the place that stays even when nothing is left in it
 */
export function takeOut(data: unknown, at: EditPlace, within: EditPlace): LabEdit {
  let place = at;
  while (place.length > within.length + 1 && sizeOf(plainAt(data, place.slice(0, -1))) === 1)
    place = place.slice(0, -1);
  return { kind: 'remove', at: place };
}

function sizeOf(value: unknown): number {
  if (Array.isArray(value)) return value.length;
  return isRecord(value) ? Object.keys(value).length : 0;
}
