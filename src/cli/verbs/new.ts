import { readdir, readFile, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import * as z from 'zod';
import { readLab } from '../../lab/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import type { Desk } from '../desk.ts';
import { adaptLabText } from '../files/copied-lab.ts';
import { refusal } from '../files/file-problems.ts';
import { type NewFile, Stopped, writeWholeFolder } from '../files/whole-files.ts';
import { openLab } from '../open-lab.ts';
import { printParagraph } from '../print/table.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({ from: z.string() });

export const newVerb: Verb = {
  name: 'new',
  what: 'Begin a lab of your own from another one: its lab file, texts and references, without its trials.',
  example: 'benchwright new my-chain --from tow-chain',
  declare(command) {
    command
      .argument('<NAME>', 'name of the new folder, made in the current one')
      .requiredOption('--from <LAB>', 'folder of a lab, or the name of one that comes along');
  },
  async run(desk: Desk, [name = ''], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const bad = whatIsWrongWith(name);
    if (bad !== null)
      return fail(
        problem('name-not-safe', {}, bad, 'Use letters, digits, hyphens and underscores: my-chain.'),
      );
    const path = resolve(desk.environment.folder, name);
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
    const open = await openLab(desk, options.from);
    if (!open.ok) return open;
    const { folder, lab, text } = open.value;
    const adapted = adaptLabText(
      text,
      titleOf(name),
      `"${lab.title.trim().replace(/\s+/g, ' ')}" (${options.from}, texts CC BY 4.0)`,
    );
    const reread = readLab(adapted, folder.labFile);
    if (!reread.ok) return reread;
    try {
      const files: readonly NewFile[] = [
        { name: 'lab.yaml', content: adapted },
        ...(await filesBeside(folder.path)),
      ];
      await writeWholeFolder(path, files, { signal: desk.environment.signal });
      return succeed(report(desk, name, path, options.from, files));
    } catch (error) {
      if (error instanceof Stopped) throw error;
      return fail(refusal(error, name, 'written'));
    }
  },
};

function report(desk: Desk, name: string, path: string, from: string, files: readonly NewFile[]): Report {
  desk.opened = null;
  return {
    json: { name, folder: path, from, files: files.map((file) => file.name) },
    print: (page) => [
      ...printParagraph(page, `Made ${name}/ from ${from}: ${files.map((file) => file.name).join(', ')}.`),
      '',
      ...printParagraph(page, `Now edit ${name}/lab.yaml, then:`),
      `  benchwright check ${name}`,
      `  benchwright predict ${name}`,
      `  benchwright rehearse ${name}`,
    ],
    notes: [],
  };
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
