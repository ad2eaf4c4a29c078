import { resolve } from 'node:path';
import * as z from 'zod';
import { findLabFolder, makeLabFrom } from '../../files/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import type { Desk } from '../desk.ts';
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
    const { from } = optionsForm.parse(given);
    const { folder: parent, shippedLabs, signal } = desk.environment;
    const folder = await findLabFolder(from, parent, shippedLabs);
    if (!folder.ok) return folder;
    desk.opened = { folder: folder.value, text: '' };
    const made = await makeLabFrom({ folder: folder.value, shown: from }, name, parent, signal);
    return made.ok ? succeed(report(name, resolve(parent, name), from, made.value)) : made;
  },
};

function report(name: string, path: string, from: string, files: readonly string[]): Report {
  return {
    json: { name, folder: path, from, files },
    print: (page) => [
      ...printParagraph(page, `Made ${name}/ from ${from}: ${files.join(', ')}.`),
      '',
      ...printParagraph(page, `Now edit ${name}/lab.yaml, then:`),
      `  benchwright check ${name}`,
      `  benchwright predict ${name}`,
      `  benchwright rehearse ${name}`,
    ],
    notes: [],
  };
}
