import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { addFile, digestOfBytes, type FileDigests, listFiles, partsOfName, refusal } from '../files/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { describeFile, labIsGone } from './lab-files.ts';
import type { ShelvedLab } from './shelf.ts';
import type { Turns } from './turns.ts';
import { notYours, placeOfFile } from './write-lab-file.ts';

/** Raw readings of more bytes than this are not taken over the wire; they can be copied into the folder by hand. */
export const MOST_TRIAL_BYTES = 64 * 2 ** 20;

export interface TakenTrial {
  readonly path: string;
  readonly digest: string;
  /** Whether a file was added; false where one of the same content was there. */
  readonly isNew: boolean;
}

/**
 * Puts a file of raw readings into the lab's "trials": as it came, under its own name or, where another file has that
 * name, under one with a number. What is there is never written over; the same readings are not kept twice.
 *
 * @param given the file's name on the computer it comes from
 */
export async function takeTrial(
  lab: ShelvedLab,
  given: string,
  content: Uint8Array,
  { digests, turns }: { readonly digests: FileDigests; readonly turns: Turns },
): Promise<Outcome<TakenTrial>> {
  if (!lab.mine) return fail(notYours(lab));
  const name = safeFileName(given);
  if (!name.ok) return name;
  const digest = digestOfBytes(content);
  return turns.take(join(lab.folder.path, 'trials'), async () => {
    const same = await findSame(lab, digest, content.length, digests);
    if (!same.ok) return same;
    if (same.value !== null) return succeed({ path: same.value, digest, isNew: false });
    for (let number = 1; number <= MOST_OF_ONE_NAME; number++) {
      const path = `trials/${numbered(name.value, number)}`;
      const place = await placeOfFile(lab, path);
      if (!place.ok) return place;
      try {
        if (await addFile(place.value, content)) return succeed({ path, digest, isNew: true });
      } catch (error) {
        return fail(refusal(error, path, 'written'));
      }
    }
    return fail(
      problem('already-there', {}, `There are too many files named like "${name.value}" in trials.`),
    );
  });
}

const MOST_OF_ONE_NAME = 1000;

/** The path of a trial file with this content, if there is one. */
async function findSame(
  lab: ShelvedLab,
  digest: string,
  size: number,
  digests: FileDigests,
): Promise<Outcome<string | null>> {
  const names = await listFiles(lab.folder.path).catch(() => null);
  if (names === null) return fail(labIsGone(lab));
  for (const path of names.filter((name) => name.startsWith('trials/'))) {
    const entry = await stat(join(lab.folder.path, path)).catch(() => null);
    if (entry?.size !== size) continue;
    const found = await describeFile(lab, path, digests);
    if (found.ok && found.value.digest === digest) return succeed(path);
  }
  return succeed(null);
}

/** Names that some systems keep for devices, whatever follows the first dot. */
const RESERVED = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

const LONGEST_NAME = 120;

/**
 * A file's name made fit for every system: what some do not take becomes a hyphen.
 *
 * @returns fails where the name is a path, or nothing is left of it
 */
function safeFileName(given: string): Outcome<string> {
  const refuse = (why: string) =>
    fail(
      problem(
        'name-not-safe',
        {},
        `"${given}" cannot be the name of a file in trials: ${why}.`,
        'Rename it.',
      ),
    );
  if (/[/\\\0]/.test(given)) return refuse('a name is no path');
  const mended = [...given.normalize('NFC').trim()]
    .map((sign) => ((sign.codePointAt(0) ?? 0) < 0x20 || '<>:"|?*\u007f'.includes(sign) ? '-' : sign))
    .join('')
    .replace(/^\.+/, '')
    .replace(/[. ]+$/, '');
  if (mended === '') return refuse('nothing is left of it');
  if (RESERVED.test(mended)) return refuse('some systems keep it for a device');
  const name = shorten(mended);
  return partsOfName(name).ok ? succeed(name) : refuse('it holds signs that no file name can have');
}

/** Cuts the stem, never the ending, and never a sign in two. */
function shorten(name: string): string {
  const ending = /\.[^.]{1,10}$/.exec(name)?.[0] ?? '';
  const stem = [...name.slice(0, name.length - ending.length)];
  return `${stem.slice(0, LONGEST_NAME).join('').trimEnd()}${ending}`;
}

/** 'a.csv', 'a-2.csv', 'a-3.csv' … */
function numbered(name: string, number: number): string {
  if (number === 1) return name;
  const ending = /\.[^.]{1,10}$/.exec(name)?.[0] ?? '';
  return `${name.slice(0, name.length - ending.length)}-${number}${ending}`;
}
