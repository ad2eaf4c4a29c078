import { realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { ReadFile } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { errorCode, refusal } from './file-problems.ts';
import { readInside } from './inside.ts';

/** A lab's folder on the disk. */
export interface LabFolder {
  /** Absolute, without links. */
  readonly path: string;
  /** The name of the lab file in it, usually 'lab.yaml'. */
  readonly labFile: string;
  /** What stands before the names of its files in messages: 'labs/tow-chain/', or ''. */
  readonly prefix: string;
}

/** A raw file of more bytes than this is no trial of a school lab: a million rows of ten columns are about half of it. */
const mostTrialBytes = 256 * 2 ** 20;

const mostLabBytes = 4 * 2 ** 20;

/**
 * Finds the folder of a lab from what the user wrote: a folder, its lab file, or the name of a lab that comes along.
 *
 * @param written     as on the command line
 * @param from        the folder that a relative path is meant from
 * @param shippedLabs the folder of the labs of the package
 */
export async function findLabFolder(
  written: string,
  from: string,
  shippedLabs: string,
): Promise<Outcome<LabFolder>> {
  const given = resolve(from, written);
  const found = await locate(given, written);
  if (found.ok || found.problems[0]?.code !== 'no-such-lab' || !isBareName(written)) return found;
  const shipped = await locate(join(shippedLabs, written), written);
  return shipped.ok ? succeed({ ...shipped.value, prefix: `${written}/` }) : found;
}

/** A folder's name alone, as the shipped labs have. */
function isBareName(written: string): boolean {
  return written !== '' && basename(written) === written && written !== '.' && written !== '..';
}

async function locate(given: string, written: string): Promise<Outcome<LabFolder>> {
  try {
    const isFolder = (await stat(given)).isDirectory();
    const labFile = isFolder ? 'lab.yaml' : basename(given);
    const path = await realpath(isFolder ? given : dirname(given));
    const shown = isFolder ? written : dirname(written);
    return succeed({
      path,
      labFile,
      prefix: shown === '.' || shown === '' ? '' : `${shown.replace(/[/\\]+$/, '')}/`,
    });
  } catch (error) {
    const code = errorCode(error);
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return fail(
        problem(
          'no-such-lab',
          {},
          `There is no lab "${written}": neither a folder nor a lab file of that name.`,
          'Give the folder that holds lab.yaml.',
        ),
      );
    }
    return fail(refusal(error, written, 'read'));
  }
}

/** Reads the text of the lab file: UTF-8, or UTF-16 where a byte-order mark says so. */
export async function readLabText(folder: LabFolder): Promise<Outcome<string>> {
  const bytes = await readInside(folder.path, folder.labFile, mostLabBytes);
  if (!bytes.ok) {
    const missing = bytes.problems.some(({ code }) => code === 'no-such-file');
    if (!missing) return bytes;
    const where = folder.prefix === '' ? 'The current folder' : `"${folder.prefix}"`;
    return fail(
      problem(
        'no-such-lab',
        {},
        `${where} has no ${folder.labFile}, so it is not a lab.`,
        'Make one with "benchwright new NAME --from tow-chain".',
      ),
    );
  }
  const [first, second] = bytes.value;
  const encoding =
    first === 0xff && second === 0xfe ? 'utf-16le' : first === 0xfe && second === 0xff ? 'utf-16be' : 'utf-8';
  try {
    return succeed(new TextDecoder(encoding, { fatal: true }).decode(bytes.value));
  } catch {
    return fail(
      problem(
        'not-utf-8',
        { file: folder.labFile },
        'The file is not text in UTF-8.',
        'Save it as UTF-8 in your editor.',
      ),
    );
  }
}

/** Makes the function through which the trials of a lab are read. */
export function readerOf(folder: LabFolder): ReadFile {
  return (file) => readInside(folder.path, file, mostTrialBytes);
}
