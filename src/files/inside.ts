import { constants } from 'node:fs';
import { type FileHandle, open, realpath } from 'node:fs/promises';
import { isAbsolute, join, relative, sep } from 'node:path';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { refusal } from './file-problems.ts';

/** A file of a folder, found without leaving it. */
export interface FoundFile {
  /** Absolute, without links. */
  readonly path: string;
  readonly size: number;
}

/** Whether a path, both without links, lies in a folder and is not the folder itself. */
export function liesInside(path: string, folder: string): boolean {
  const way = relative(folder, path);
  return way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

/**
 * The parts of a file's name within a folder ('trials/a.csv').
 *
 * @returns one or more parts, none of them empty, '.', '..' or hidden; fails where the name could lead anywhere else
 */
export function partsOfName(name: string): Outcome<readonly string[]> {
  const parts = name.split('/');
  const isPlain = parts.every((part) => part !== '' && !part.startsWith('.') && !hasForbidden(part));
  return isPlain && name.length <= 1000 ? succeed(parts) : fail(leadsOut(name));
}

/** Control characters, and what some system takes for a separator, a drive or a stream. */
function hasForbidden(part: string): boolean {
  for (const sign of part) {
    const code = sign.codePointAt(0) ?? 0;
    if (code < 0x20 || code === 0x7f || sign === '\\' || sign === ':') return true;
  }
  return false;
}

/**
 * Opens a plain file of a folder for reading, and hands it to `use`; no link may lead out of the folder.
 *
 * @param folder absolute path without links
 * @param name   of the file within it, with '/' between its parts
 * @returns what `use` returns; fails where the file is not there, not plain, not readable or not inside
 */
export async function openInside<T>(
  folder: string,
  name: string,
  use: (handle: FileHandle, found: FoundFile) => Promise<Outcome<T>>,
): Promise<Outcome<T>> {
  try {
    const path = await realpath(join(folder, name));
    if (!liesInside(path, folder)) return fail(leadsOut(name));
    // A pipe would keep its opener waiting, and a link that has come in between would lead elsewhere.
    const handle = await open(
      path,
      constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0),
    );
    try {
      const entry = await handle.stat();
      if (!entry.isFile())
        return fail(problem('not-a-file', { file: name }, `"${name}" is not a plain file.`));
      return await use(handle, { path, size: entry.size });
    } finally {
      await handle.close();
    }
  } catch (error) {
    return fail(refusal(error, name, 'read'));
  }
}

/** Reads a whole file of a folder, of up to `most` bytes. */
export function readInside(folder: string, name: string, most: number): Promise<Outcome<Uint8Array>> {
  return openInside(folder, name, async (handle, { size }) => {
    if (size <= most) return succeed(new Uint8Array(await handle.readFile()));
    const message = `"${name}" has ${inMebibytes(size)} MB; files of up to ${inMebibytes(most)} MB are read.`;
    return fail(problem('file-too-large', { file: name }, message));
  });
}

function leadsOut(name: string): Problem {
  return problem(
    'outside-the-folder',
    { file: name },
    `"${name}" leads out of the lab's folder.`,
    'Copy the file into the folder.',
  );
}

function inMebibytes(bytes: number): number {
  return Math.ceil(bytes / 2 ** 20);
}
