import type { Path } from '../../src/lab/index.ts';

/** The plain data of a lab file, looked into without trusting its form: a stranger wrote it. */
export type PlainRecord = Readonly<Record<string, unknown>>;

export function isRecord(value: unknown): value is PlainRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** What stands at a path, or undefined. */
export function plainAt(data: unknown, path: Path): unknown {
  let value = data;
  for (const part of path) {
    if (Array.isArray(value) && typeof part === 'number') value = value[part];
    else if (isRecord(value) && Object.hasOwn(value, part)) value = value[part];
    else return undefined;
  }
  return value;
}

/** One and the same each time: a screen that picks what is not there is not drawn again for it. */
const NO_MAP: PlainRecord = {};
const NO_LIST: readonly unknown[] = [];

/** The map at a path; empty where there is none. */
export function recordAt(data: unknown, path: Path): PlainRecord {
  const value = plainAt(data, path);
  return isRecord(value) ? value : NO_MAP;
}

/** The list at a path; empty where there is none. */
export function listAt(data: unknown, path: Path): readonly unknown[] {
  const value = plainAt(data, path);
  return Array.isArray(value) ? value : NO_LIST;
}

/** The text or number at a path as it is written; undefined where something else or nothing stands there. */
export function textAt(data: unknown, path: Path): string | undefined {
  const value = plainAt(data, path);
  if (typeof value === 'string') return value;
  return typeof value === 'number' || typeof value === 'boolean' ? String(value) : undefined;
}
