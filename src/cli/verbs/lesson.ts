import { resolve } from 'node:path';
import { Option } from 'commander';
import * as z from 'zod';
import { speakLab } from '../../files/index.ts';
import { type Outcome, succeed } from '../../problem/index.ts';
import { prepareLesson, startLesson } from '../../server/index.ts';
import type { Desk } from '../desk.ts';
import { labToJson } from '../json/lab-json.ts';
import { openLab } from '../open-lab.ts';
import { takeLab, wholeNumber } from '../options.ts';
import { untilStopped } from '../until-stopped.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  port: z.number(),
  host: z.string().optional(),
  groups: z.number().optional(),
  rehearsals: z.number().optional(),
  entries: z.string(),
  language: z.enum(['en', 'de']),
  browser: z.boolean(),
});

export const lessonVerb: Verb = {
  name: 'lesson',
  what: 'Collect what student groups find, in the local network, and show the class result as it fills.',
  example: 'benchwright lesson labs/draped-chain --groups 12',
  declare(command) {
    takeLab(command);
    command
      .option(
        '--port <N>',
        'port for students, 0 for any that is free',
        wholeNumber('--port', 0, 65_535),
        18_700,
      )
      .option('--host <ADDRESS>', 'address of this computer in the network; the first one where left out')
      .option(
        '--groups <N>',
        'how many groups there are; the number of the lab where left out',
        wholeNumber('--groups', 1, 500),
      )
      .option(
        '--rehearsals <N>',
        'how often each station is rehearsed',
        wholeNumber('--rehearsals', 4, 100_000),
      )
      .option('--entries <FILE>', 'where entries are kept until they are deleted', 'lesson.db')
      .addOption(new Option('--language <TAG>', 'language of the pages').choices(['en', 'de']).default('en'))
      .option('--no-browser', 'print the addresses only');
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const spoken = options.language === 'en' ? open : await speakLab(open.value, options.language);
    if (!spoken.ok) return spoken;
    const lesson = prepareLesson(spoken.value.pipeline, {
      language: options.language,
      ...(options.groups === undefined ? {} : { groups: options.groups }),
      ...(options.rehearsals === undefined ? {} : { rehearsals: options.rehearsals }),
      signal: desk.environment.signal,
      progress: (done, total) => desk.progress.show('rehearsing stations', done, total),
    });
    desk.progress.clear();
    if (!lesson.ok) return lesson;
    const started = await startLesson({
      lesson: lesson.value,
      host: options.host ?? null,
      port: options.port,
      entries: resolve(desk.environment.folder, options.entries),
    });
    if (!started.ok) return started;
    const { address, port, teacherAddress, teacherPort } = started.value;
    const code = started.value.code();
    if (options.browser) desk.environment.showAddress(teacherAddress);
    return succeed({
      json: {
        lab: labToJson(open.value),
        address,
        port,
        teacher_address: teacherAddress,
        teacher_port: teacherPort,
        code,
        entries: options.entries,
        stations: lesson.value.stations.map(({ name }) => name),
      },
      print: (page) => [
        `Students open ${page.paint(address, 'strong')} and enter the code ${page.paint(code, 'strong')}`,
        `The teacher's page, on this computer only: ${page.paint(teacherAddress, 'strong')}`,
        `Entries are kept in ${options.entries} until they are deleted there. Ctrl-C ends the lesson.`,
      ],
      notes: open.warnings,
      goesOn: () => untilStopped(started.value, desk.environment.signal),
    });
  },
};
