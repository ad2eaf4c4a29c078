import { mkdir, realpath } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import {
  digestOfBytes,
  errorCode,
  type FileDigests,
  liesInside,
  partsOfName,
  refusal,
  replaceFile,
} from '../files/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { describeFile, labIsGone } from './lab-files.ts';
import type { ShelvedLab } from './shelf.ts';
import type { Turns } from './turns.ts';

/** What the file must be when it is written: of this digest, or not there. */
export type Condition = { readonly kind: 'digest'; readonly digest: string } | { readonly kind: 'absent' };

/** The file was not written, since it is other than the page thought. */
export interface Clash {
  /** What it is now; null where it is not there. */
  readonly digest: string | null;
}

export type Written =
  | { readonly kind: 'written'; readonly digest: string }
  | ({ readonly kind: 'clash' } & Clash);

/** A lab file or a text of more bytes than this is not written. */
export const MOST_TEXT_BYTES = 4 * 2 ** 20;

/**
 * Writes the lab file, a text or the list of references of a lab of the user's own, whole or not at all.
 *
 * @param condition looked at twice: before, and when the new content lies ready beside the file
 */
export async function writeLabFile(
  lab: ShelvedLab,
  name: string,
  content: Uint8Array,
  condition: Condition,
  { digests, turns }: { readonly digests: FileDigests; readonly turns: Turns },
): Promise<Outcome<Written>> {
  const bad = whyNotWritten(lab, name, content);
  if (bad !== null) return fail(bad);
  return turns.take(join(lab.folder.path, name), async () => {
    let now = await digestNow(lab, name, digests);
    if (!now.ok) return now;
    if (!holds(condition, now.value)) return succeed({ kind: 'clash', digest: now.value });
    const path = await placeOfFile(lab, name);
    if (!path.ok) return path;
    try {
      const done = await replaceFile(path.value, content, async () => {
        now = await digestNow(lab, name, digests);
        return now.ok && holds(condition, now.value);
      });
      if (!now.ok) return now;
      if (!done) return succeed({ kind: 'clash', digest: now.value });
      return succeed({ kind: 'written', digest: digestOfBytes(content) });
    } catch (error) {
      return fail(refusal(error, name, 'written'));
    }
  });
}

function whyNotWritten(lab: ShelvedLab, name: string, content: Uint8Array): Problem | null {
  if (!lab.mine) return notYours(lab);
  const parts = partsOfName(name);
  if (!parts.ok) return parts.problems[0] ?? null;
  if (!isWritable(lab, name)) {
    return problem(
      'refused',
      { file: name },
      `"${name}" is not written here: only the lab file, texts (text/….md) and references are.`,
    );
  }
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(content);
    return null;
  } catch {
    return problem('not-utf-8', { file: name }, `What was to be written to "${name}" is not text in UTF-8.`);
  }
}

export function notYours(lab: ShelvedLab): Problem {
  return problem(
    'not-yours',
    {},
    `"${lab.shown}" came with the program and stays as it is.`,
    'Keep a copy, and change that.',
  );
}

function isWritable(lab: ShelvedLab, name: string): boolean {
  return (
    name === lab.folder.labFile ||
    /^references\.(bib|json)$/.test(name) ||
    /^text\/[^/]{1,100}(?<![. ])\.md$/.test(name) ||
    /^text\/words\.[a-z]{2,3}\.yaml$/.test(name)
  );
}

function holds(condition: Condition, digest: string | null): boolean {
  return condition.kind === 'absent' ? digest === null : digest === condition.digest;
}

async function digestNow(
  lab: ShelvedLab,
  name: string,
  digests: FileDigests,
): Promise<Outcome<string | null>> {
  const entry = await describeFile(lab, name, digests);
  if (entry.ok) return succeed(entry.value.digest);
  return entry.problems.some(({ code }) => code === 'no-such-file') ? succeed(null) : entry;
}

/** Where a file of the folder is or would be, links resolved; its own folder is made where it is missing. */
export async function placeOfFile(lab: ShelvedLab, name: string): Promise<Outcome<string>> {
  const path = join(lab.folder.path, name);
  try {
    const root = await realpath(lab.folder.path);
    if (dirname(path) !== lab.folder.path) await mkdir(dirname(path), { recursive: true });
    const parent = await realpath(dirname(path));
    const there = await realpath(path).catch(() => join(parent, path.slice(dirname(path).length + 1)));
    if ((parent === root || liesInside(parent, root)) && liesInside(there, root)) return succeed(there);
    return fail(problem('outside-the-folder', { file: name }, `"${name}" leads out of the lab's folder.`));
  } catch (error) {
    return fail(errorCode(error) === 'ENOENT' ? labIsGone(lab) : refusal(error, name, 'written'));
  }
}
