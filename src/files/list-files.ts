import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { partsOfName } from './inside.ts';

/** More files than this are not listed, and none below so many folders. */
const MOST_FILES = 2000;
const DEEPEST = 6;

/** Folders that hold no part of a lab: what was made from it, and what programs keep for themselves. */
const APART: ReadonlySet<string> = new Set(['published', 'node_modules']);

/** Whether a file of that name within a lab's folder can be a part of the lab: not hidden, not published. */
export function isPartOfLab(name: string): boolean {
  const parts = partsOfName(name);
  return parts.ok && parts.value.length <= DEEPEST && !APART.has(parts.value[0] ?? '');
}

/**
 * Names of the files of a lab's folder, with '/' between their parts, sorted; links to files count as files.
 *
 * @param folder absolute path without links
 * @throws what the file system throws where the folder itself cannot be read
 */
export async function listFiles(folder: string): Promise<readonly string[]> {
  const found: string[] = [];
  const look = async (prefix: string): Promise<void> => {
    const reading = readdir(join(folder, prefix), { withFileTypes: true });
    const entries = await (prefix === '' ? reading : reading.catch(() => []));
    for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
      const name = `${prefix}${entry.name}`;
      if (!isPartOfLab(name)) continue;
      if (entry.isDirectory()) await look(`${name}/`);
      else if (entry.isFile() || entry.isSymbolicLink()) found.push(name);
      if (found.length >= MOST_FILES) return;
    }
  };
  await look('');
  return found;
}
