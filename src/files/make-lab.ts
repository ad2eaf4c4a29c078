import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { readLab } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { adaptLabText } from './copied-lab.ts';
import { refusal } from './file-problems.ts';
import { firstLabText } from './first-lab.ts';
import { type LabFolder, readLabText } from './lab-folder.ts';
import { type NewFile, Stopped, writeWholeFolder } from './whole-files.ts';

/** What a new lab is begun from. */
export interface LabSource {
  readonly folder: LabFolder;
  /** What the lab is called where it is named as the origin: its folder's name, or what the user wrote. */
  readonly shown: string;
}

/**
 * Begins a lab from another one: its lab file under a new title, its texts and references, without its trials.
 *
 * @param name   of the new folder, made in `parent`
 * @param parent absolute path of a folder that is there
 * @param signal looked at between files
 * @returns the names of the files written; fails where the name is not safe or taken, or the source is not sound
 * @throws Stopped where `signal` asks for it
 */
export async function makeLabFrom(
  source: LabSource,
  name: string,
  parent: string,
  signal: { readonly aborted: boolean },
): Promise<Outcome<readonly string[]>> {
  const free = await checkName(name, parent);
  if (!free.ok) return free;
  const { folder, shown } = source;
  const text = await readLabText(folder);
  if (!text.ok) return text;
  const lab = readLab(text.value, folder.labFile);
  if (!lab.ok) return lab;
  const origin = `"${lab.value.title.trim().replace(/\s+/g, ' ')}" (${shown}, texts CC BY 4.0)`;
  const adapted = adaptLabText(text.value, titleOf(name), origin);
  const reread = readLab(adapted, folder.labFile);
  if (!reread.ok) return reread;
  try {
    const files: readonly NewFile[] = [
      { name: 'lab.yaml', content: adapted },
      ...(await filesBeside(folder.path)),
    ];
    await writeWholeFolder(free.value, files, { signal });
    return succeed(files.map((file) => file.name));
  } catch (error) {
    if (error instanceof Stopped) throw error;
    return fail(refusal(error, name, 'written'));
  }
}

/**
 * Begins a lab with nothing in it but its name.
 *
 * @returns the names of the files written; fails where the name is not safe or taken
 * @throws Stopped where `signal` asks for it
 */
export async function makeFirstLab(
  name: string,
  parent: string,
  signal: { readonly aborted: boolean },
): Promise<Outcome<readonly string[]>> {
  const free = await checkName(name, parent);
  if (!free.ok) return free;
  try {
    const files: readonly NewFile[] = [{ name: 'lab.yaml', content: firstLabText(titleOf(name)) }];
    await writeWholeFolder(free.value, files, { signal });
    return succeed(files.map((file) => file.name));
  } catch (error) {
    if (error instanceof Stopped) throw error;
    return fail(refusal(error, name, 'written'));
  }
}

/** The path of a new lab's folder; a problem where the name is not safe or is taken. */
async function checkName(name: string, parent: string): Promise<Outcome<string>> {
  const bad = whatIsWrongWith(name);
  if (bad !== null)
    return fail(problem('name-not-safe', {}, bad, 'Use letters, digits, hyphens and underscores: my-chain.'));
  const path = join(parent, name);
  if (await isThere(path)) {
    return fail(
      problem(
        'already-there',
        {},
        `"${name}" is there already; nothing was written.`,
        'Choose another name.',
      ),
    );
  }
  return succeed(path);
}

/** 'my-chain' becomes 'My chain'. */
function titleOf(name: string): string {
  const words = name.replace(/[-_]+/g, ' ').trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Names that some systems keep for devices. */
const reserved = /^(con|prn|aux|nul|com\d|lpt\d)$/i;

function whatIsWrongWith(name: string): string | null {
  if (!/^[\p{L}\p{N}][\p{L}\p{N}_-]{0,63}$/u.test(name)) {
    return `"${name}" cannot be the name of a lab's folder: it must be one to 64 letters, digits, hyphens or underscores, and begin with a letter or digit.`;
  }
  return reserved.test(name) ? `"${name}" is a name that some systems keep for a device.` : null;
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

/** Texts and references of a lab; its trials and whatever made them stay behind. */
async function filesBeside(folder: string): Promise<readonly NewFile[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const references = entries
    .filter((entry) => entry.isFile() && /^references\.[a-z]+$/i.test(entry.name))
    .map((entry) => entry.name);
  const hasTexts = entries.some((entry) => entry.isDirectory() && entry.name === 'text');
  const inText = hasTexts
    ? await readdir(join(folder, 'text'), { withFileTypes: true, recursive: true })
    : [];
  const texts = inText
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1));
  return Promise.all(
    [...references, ...texts].map(async (name) => ({
      name: name.replaceAll('\\', '/'),
      content: new Uint8Array(await readFile(join(folder, name))),
    })),
  );
}
