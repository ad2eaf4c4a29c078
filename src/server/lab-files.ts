import { errorCode, type FileDigests, listFiles, openInside, partsOfName, refusal } from '../files/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { ShelvedLab } from './shelf.ts';

/** One file of a lab, as the page knows it. */
export interface LabFileEntry {
  /** Within the lab's folder, with '/' between its parts. */
  readonly path: string;
  readonly size: number;
  /** SHA-256, hexadecimal. */
  readonly digest: string;
}

/** The files of a lab; what cannot be read, or leads out of the folder, is left out. */
export async function listLabFiles(
  lab: ShelvedLab,
  digests: FileDigests,
): Promise<Outcome<readonly LabFileEntry[]>> {
  try {
    const entries: LabFileEntry[] = [];
    for (const path of await listFiles(lab.folder.path)) {
      const entry = await describeFile(lab, path, digests);
      if (entry.ok) entries.push(entry.value);
    }
    return succeed(entries);
  } catch (error) {
    return fail(errorCode(error) === 'ENOENT' ? labIsGone(lab) : refusal(error, lab.shown, 'read'));
  }
}

/** Size and digest of one file. */
export function describeFile(
  lab: ShelvedLab,
  path: string,
  digests: FileDigests,
): Promise<Outcome<LabFileEntry>> {
  return openInside(lab.folder.path, path, async (handle, found) =>
    succeed({ path, size: found.size, digest: await digests.of(found.path, handle) }),
  );
}

/** A file's content, with the digest of exactly these bytes. */
export async function readLabFile(lab: ShelvedLab, path: string, most: number): Promise<Outcome<Uint8Array>> {
  const parts = partsOfName(path);
  if (!parts.ok) return parts;
  return openInside(lab.folder.path, path, async (handle, { size }) => {
    if (size > most) {
      const message = `"${path}" has ${Math.ceil(size / 2 ** 20)} MB; files of up to ${most / 2 ** 20} MB are sent.`;
      return fail(problem('file-too-large', { file: path }, message));
    }
    return succeed(new Uint8Array(await handle.readFile()));
  });
}

export function labIsGone(lab: { readonly shown: string }) {
  return problem(
    'no-such-lab',
    {},
    `The folder "${lab.shown}" is no longer there.`,
    'Put it back where it was, or open another lab.',
  );
}
