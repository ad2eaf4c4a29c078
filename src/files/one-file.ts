import { randomBytes } from 'node:crypto';
import { chmod, link, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { errorCode } from './file-problems.ts';
import { flushFolder, writeToDisk } from './whole-files.ts';

/**
 * Puts a new content in the place of a file's old one, or makes the file. Whoever reads it meanwhile, and whoever
 * reads it after the program was killed, finds the old content or the new one, whole.
 *
 * @param path   without links, in a folder that is there; what stands beside it begins with a dot while it is written
 * @param settle looked at last, when the new content is on the disk: false keeps the old one
 * @returns whether the new content took its place
 * @throws what the file system throws, after what was written is removed again
 */
export async function replaceFile(
  path: string,
  content: Uint8Array,
  settle: () => Promise<boolean> = () => Promise.resolve(true),
): Promise<boolean> {
  const beside = nameBeside(path);
  await clearLeftovers(dirname(path));
  try {
    await writeToDisk(beside, content);
    const old = await stat(path).catch(() => null);
    if (old !== null) await chmod(beside, old.mode & 0o777);
    const takes = await settle();
    if (takes) {
      await rename(beside, path);
      await flushFolder(dirname(path));
    } else await rm(beside, { force: true });
    return takes;
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}

/**
 * Makes a file that is not there yet, whole or not at all; one that is there is never touched.
 *
 * @returns false where a file of that name is there already
 * @throws what else the file system throws
 */
export async function addFile(path: string, content: Uint8Array): Promise<boolean> {
  const beside = nameBeside(path);
  await clearLeftovers(dirname(path));
  try {
    await writeToDisk(beside, content);
    await placeNew(beside, path, content);
    await flushFolder(dirname(path));
    return true;
  } catch (error) {
    if (errorCode(error) === 'EEXIST') return false;
    throw error;
  } finally {
    await rm(beside, { force: true });
  }
}

/** A second name for the file, since renaming would write over what is there; some disks know no second names. */
async function placeNew(beside: string, path: string, content: Uint8Array): Promise<void> {
  try {
    await link(beside, path);
  } catch (error) {
    if (!['EPERM', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP', 'EMLINK'].includes(errorCode(error))) throw error;
    await writeToDisk(path, content);
  }
}

function nameBeside(path: string): string {
  return join(dirname(path), `.${basename(path).slice(0, 100)}.${randomBytes(6).toString('hex')}.new`);
}

/** What a killed program was writing is nobody's any more after this time, ms. */
const LONGEST_WRITING = 600_000;

/** Removes what a killed program left half written in a folder; whatever keeps that from being done can wait. */
async function clearLeftovers(folder: string): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    if (!/^\..+\.[0-9a-f]{12}\.new$/.test(name)) continue;
    const entry = await stat(join(folder, name)).catch(() => null);
    if (entry?.isFile() === true && Date.now() - entry.mtimeMs > LONGEST_WRITING)
      await rm(join(folder, name), { force: true }).catch(() => undefined);
  }
}
