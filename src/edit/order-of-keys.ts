import { labJsonSchema } from '../lab/index.ts';
import type { EditPlace } from './lab-edit.ts';

/** Top-level keys in the order in which a lab file is read. */
const sections: readonly string[] = Object.keys(labJsonSchema().properties ?? {});

/**
 * Where a new key goes in a map: sections of the file in their usual order, everything else at the end.
 *
 * @param at   the map
 * @param keys those that are there, in their order
 */
export function preferredPosition(at: EditPlace, keys: readonly string[], key: string): number {
  const own = sections.indexOf(key);
  if (at.length > 0 || own < 0) return keys.length;
  const before = keys.findLastIndex((other) => sections.indexOf(other) >= 0 && sections.indexOf(other) < own);
  return before < 0 ? keys.length : before + 1;
}
