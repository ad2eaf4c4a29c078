import { resolve } from 'node:path';
import * as z from 'zod';
import { refusal, Stopped, writeWholeFolder } from '../../files/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { fail, succeed, warning } from '../../problem/index.ts';
import { type Rehearsal, rehearse } from '../../run/index.ts';
import type { Desk } from '../desk.ts';
import { mayBeRehearsedInto, rehearsedFiles } from '../files/rehearsed-set.ts';
import { rehearsalToJson } from '../json/rehearsal-json.ts';
import { type OpenLab, openLab } from '../open-lab.ts';
import { readSettings, takeLab, takeSeed, takeSettings, wholeNumber } from '../options.ts';
import { printRehearsal } from '../print/rehearsal-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  repeats: z.number(),
  seed: z.number(),
  out: z.string().optional(),
  anyApparatus: z.boolean(),
  set: z.array(z.string()),
});

export const rehearseVerb: Verb = {
  name: 'rehearse',
  what: 'Simulate the planned runs with noise, many times: what the measurement will look like.',
  example: 'benchwright rehearse labs/tow-chain --repeats 50 --out rehearsed',
  declare(command) {
    takeLab(command);
    takeSettings(command);
    takeSeed(command);
    command
      .option(
        '--repeats <N>',
        'how often the whole plan is rehearsed',
        wholeNumber('--repeats', 1, 1_000_000),
        100,
      )
      .option(
        '--any-apparatus',
        'draw the quantities too, within their uncertainties, once a rehearsal',
        false,
      )
      .option('--out <DIR>', 'write the readings of the first rehearsal here, one CSV a run');
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const settings = readSettings(open.value.lab, options.set);
    if (!settings.ok) return settings;
    const path = options.out === undefined ? null : resolve(desk.environment.folder, options.out);
    const allowed =
      path === null ? succeed({ isThere: false }) : await mayBeRehearsedInto(path, options.out ?? '');
    if (!allowed.ok) return allowed;
    const rehearsed = rehearse(open.value.pipeline, {
      repeats: options.repeats,
      seed: options.seed,
      settings: settings.value,
      drawsQuantities: options.anyApparatus,
      keepsReadings: path !== null,
      signal: desk.environment.signal,
      progress: (done, total) => desk.progress.show('rehearsing', done, total),
    });
    desk.progress.clear();
    if (!rehearsed.ok) return rehearsed;
    if (desk.environment.signal.aborted) throw new Stopped();
    const written =
      path === null
        ? succeed([])
        : await writeSet(desk, open.value, rehearsed.value, {
            path,
            shown: options.out ?? '',
            seed: options.seed,
            replace: allowed.value.isThere,
          });
    if (!written.ok) return written;
    const folder = path === null ? null : { path, shown: options.out ?? '', files: written.value };
    return succeed({
      json: rehearsalToJson(open.value, rehearsed.value, { ...options, settings: settings.value }, folder),
      print: (page) => printRehearsal(page, open.value.lab, rehearsed.value, folder),
      notes: [...open.warnings, ...rehearsed.warnings, ...failuresOf(rehearsed.value)],
    });
  },
};

async function writeSet(
  desk: Desk,
  { lab }: OpenLab,
  rehearsal: Rehearsal,
  to: { readonly path: string; readonly shown: string; readonly seed: number; readonly replace: boolean },
): Promise<Outcome<readonly string[]>> {
  const files = rehearsedFiles(lab, rehearsal, to.seed);
  try {
    await writeWholeFolder(to.path, files, { replace: to.replace, signal: desk.environment.signal });
    return succeed(files.map(({ name }) => name));
  } catch (error) {
    if (error instanceof Stopped) throw error;
    return fail(refusal(error, to.shown, 'written'));
  }
}

function failuresOf({ failed, repeats, firstFailure }: Rehearsal) {
  if (failed === 0 || firstFailure === null) return [];
  const message = `${failed} of ${failed + repeats} rehearsals failed and are not counted in, the first because: ${firstFailure.message}`;
  return [warning('rehearsals-failed', firstFailure.place, message, firstFailure.tryThis)];
}
