import { randomBytes } from 'node:crypto';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** A file that is to be written: its name within a folder ('trials/a.csv') and its content. */
export interface NewFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/**
 * Writes a folder with all its files, or nothing: the files go to a folder of another name beside it, to the disk,
 * and the whole is renamed at the end.
 *
 * @param path    the folder to make
 * @param replace whether a folder of that name is put aside first and removed at the end; else it must not be there
 * @param signal  looked at between files
 * @throws what the file system throws, after everything written is removed again; `Stopped` where `signal` asks for it
 */
export async function writeWholeFolder(
  path: string,
  files: readonly NewFile[],
  options: { readonly replace?: boolean; readonly signal?: { readonly aborted: boolean } } = {},
): Promise<void> {
  const beside = (ending: string) =>
    join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}.${ending}`);
  const building = beside('new');
  await mkdir(building);
  try {
    for (const file of files) {
      if (options.signal?.aborted === true) throw new Stopped();
      await mkdir(dirname(join(building, file.name)), { recursive: true });
      await writeToDisk(join(building, file.name), file.content);
    }
    if (options.replace === true) await exchange(building, path, beside('old'));
    else await rename(building, path);
    await flushFolder(dirname(path));
  } catch (error) {
    await rm(building, { recursive: true, force: true });
    throw error;
  }
}

/** A folder that is still being built after this time belongs to a run that was killed, ms. */
const LONGEST_BUILDING = 3_600_000;

/**
 * Puts right what a run left that was killed while it wrote: the old folder is back where the new one had not yet
 * taken its place, and what was half built or already replaced is removed.
 *
 * @param path the folder as `writeWholeFolder` was asked for it; nothing need be there
 */
export async function mendFolder(path: string): Promise<void> {
  const parent = dirname(path);
  const all = await readdir(parent).catch(() => []);
  const left = all.filter((name) => name.startsWith(`.${basename(path)}.`));
  const isThere = (await stat(path).catch(() => null)) !== null;
  const [old, ...older] = left.filter((name) => /\.[0-9a-f]{12}\.old$/.test(name)).sort();
  if (old !== undefined && !isThere) await rename(join(parent, old), path);
  for (const name of isThere && old !== undefined ? [old, ...older] : older)
    await rm(join(parent, name), { recursive: true, force: true });
  for (const name of left.filter((one) => /\.[0-9a-f]{12}\.new$/.test(one))) {
    const found = await stat(join(parent, name)).catch(() => null);
    if (found !== null && Date.now() - found.mtimeMs > LONGEST_BUILDING)
      await rm(join(parent, name), { recursive: true, force: true });
  }
}

/** Thrown where the user stopped the program while it was writing. */
export class Stopped extends Error {
  constructor() {
    super('The writing was stopped.');
    this.name = 'Stopped';
  }
}

/** Puts a new folder in the place of an old one; the old one is back where that fails. */
async function exchange(building: string, path: string, aside: string): Promise<void> {
  await rename(path, aside);
  try {
    await rename(building, path);
  } catch (error) {
    await rename(aside, path);
    throw error;
  }
  await rm(aside, { recursive: true, force: true });
}

/** Writes a file that must not be there yet, and waits until the disk has it. */
export async function writeToDisk(path: string, content: string | Uint8Array): Promise<void> {
  const handle = await open(path, 'wx');
  try {
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** A renamed entry is safe once its folder is on the disk; systems that cannot do this keep it safe otherwise. */
export async function flushFolder(path: string): Promise<void> {
  const handle = await open(path, 'r').catch(() => null);
  if (handle === null) return;
  await handle.sync().catch(() => undefined);
  await handle.close();
}
