import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Command } from 'commander';
import * as z from 'zod';
import { findLabFolder, type LabFolder, readLabText } from '../../files/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { succeed } from '../../problem/index.ts';
import { startServer } from '../../server/index.ts';
import type { Desk } from '../desk.ts';
import { wholeNumber } from '../options.ts';
import { untilStopped } from '../until-stopped.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({ port: z.number().optional(), browser: z.boolean() });

export const openVerb: Verb = {
  name: 'open',
  what: 'Open a lab in the browser: the whole bench on one screen, from this computer only.',
  example: 'benchwright open labs/tow-chain',
  declare(command: Command): void {
    command
      .argument('[LAB]', 'folder of the lab, its lab.yaml, or the name of a lab that comes along')
      .option(
        '--port <N>',
        'port of the address, 0 for any that is free; the usual one where left out',
        wholeNumber('--port', 0, 65_535),
      )
      .option('--no-browser', 'print the address only');
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const { folder, shippedLabs, app, documentThread, version, showAddress } = desk.environment;
    const opened = await labToOpen(desk, where);
    if (!opened.ok) return opened;
    const started = await startServer({
      opened: opened.value,
      folder,
      shippedLabs,
      appFolder: app,
      documentThread,
      version,
      port: options.port ?? null,
    });
    if (!started.ok) return started;
    const { address, port } = started.value;
    const isShown = options.browser && showAddress(address);
    return succeed({
      json: { address, port, folder: opened.value?.path ?? null },
      print: (page) => [
        page.paint(address, 'strong'),
        isShown
          ? 'The bench opens in your browser; where it does not, open this address. Ctrl-C ends it.'
          : 'Open this address in a browser on this computer. Ctrl-C ends it.',
      ],
      notes: [],
      goesOn: () => untilStopped(started.value, desk.environment.signal),
    });
  },
};

/** The lab that was named, or that the current folder is; null for the shelf alone. */
async function labToOpen(desk: Desk, where: string | undefined): Promise<Outcome<LabFolder | null>> {
  const { folder, shippedLabs } = desk.environment;
  if (where === undefined || where === '') {
    const isLab = (await stat(join(folder, 'lab.yaml')).catch(() => null))?.isFile() === true;
    return isLab ? findLabFolder('.', folder, shippedLabs) : succeed(null);
  }
  const found = await findLabFolder(where, folder, shippedLabs);
  if (!found.ok) return found;
  // A lab with problems is opened all the same: the app is where they are mended.
  const text = await readLabText(found.value);
  const isThere = text.ok || !text.problems.some(({ code }) => code === 'no-such-lab');
  return isThere || !('problems' in text) ? succeed(found.value) : text;
}
