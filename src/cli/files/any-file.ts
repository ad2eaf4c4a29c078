import { open } from 'node:fs/promises';
import { resolve } from 'node:path';
import { refusal } from '../../files/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';

/** A table of more bytes than this is not read whole. */
const mostBytes = 256 * 2 ** 20;

/** Reads a file that the user named on the command line; relative names are meant from `folder`. */
export async function readAnyFile(file: string, folder: string): Promise<Outcome<Uint8Array>> {
  try {
    const handle = await open(resolve(folder, file), 'r');
    try {
      const entry = await handle.stat();
      if (!entry.isFile()) return fail(problem('not-a-file', { file }, `"${file}" is not a plain file.`));
      if (entry.size > mostBytes) {
        const size = Math.ceil(entry.size / 2 ** 20);
        return fail(
          problem(
            'file-too-large',
            { file },
            `"${file}" has ${size} MB; files of up to ${mostBytes / 2 ** 20} MB are read.`,
          ),
        );
      }
      return succeed(new Uint8Array(await handle.readFile()));
    } finally {
      await handle.close();
    }
  } catch (error) {
    return fail(refusal(error, file, 'read'));
  }
}
