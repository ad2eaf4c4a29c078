import { join, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import * as z from 'zod';
import {
  changedFiles,
  makeSet,
  readPublished,
  readSources,
  refusal,
  Stopped,
  writeWholeFolder,
} from '../../files/index.ts';
import type { Outcome, Problem } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import { type PrintSettings, SET_FORMATS } from '../../publish/index.ts';
import type { Desk } from '../desk.ts';
import { labToJson } from '../json/lab-json.ts';
import { type OpenLab, openLab } from '../open-lab.ts';
import { takeLab } from '../options.ts';
import { printPublished, printStale } from '../print/published-text.ts';
import type { Report, Verb } from '../verb.ts';

const optionsForm = z.object({
  out: z.string().optional(),
  format: z.array(z.string()).optional(),
  language: z.enum(['en', 'de']),
  mark: z.enum(['point', 'comma']).optional(),
  paper: z.enum(['a4', 'letter']),
  notation: z.enum(['plus-minus', 'brackets']),
  check: z.boolean(),
});

type Options = z.infer<typeof optionsForm>;

export const publishVerb: Verb = {
  name: 'publish',
  what: 'Write every document of the lab, each number in it computed; the set that is there stays whole until it is done.',
  example: 'benchwright publish labs/tow-chain --out documents --format pdf',
  declare(command: Command): void {
    takeLab(command);
    command
      .option('--out <DIR>', 'where the documents go; "published" in the lab folder where left out')
      .addOption(
        new Option('--format <NAME...>', 'formats to write; all where left out').choices(SET_FORMATS),
      )
      .addOption(
        new Option('--language <TAG>', 'language of every fixed phrase').choices(['en', 'de']).default('en'),
      )
      .addOption(
        new Option(
          '--mark <NAME>',
          "decimal mark of the documents; the language's own where left out",
        ).choices(['point', 'comma']),
      )
      .addOption(new Option('--paper <SIZE>', 'paper size').choices(['a4', 'letter']).default('a4'))
      .addOption(
        new Option('--notation <NAME>', 'how uncertainties print')
          .choices(['plus-minus', 'brackets'])
          .default('plus-minus'),
      )
      .option('--check', 'write nothing; say which published documents no longer match the lab', false);
  },
  async run(desk: Desk, [where], given): Promise<Outcome<Report>> {
    const options = optionsForm.parse(given);
    const open = await openLab(desk, where);
    if (!open.ok) return open;
    const path =
      options.out === undefined
        ? resolve(open.value.folder.path, 'published')
        : resolve(desk.environment.folder, options.out);
    const shown = options.out ?? `${open.value.folder.prefix}published`;
    const done = options.check
      ? await checkSet(desk, open.value, path, shown)
      : await publish(desk, open.value, options, { path, shown });
    return done.ok ? succeed({ ...done.value, notes: [...open.warnings, ...done.value.notes] }) : done;
  },
};

async function publish(
  desk: Desk,
  open: OpenLab,
  options: Options,
  to: { readonly path: string; readonly shown: string },
): Promise<Outcome<Report>> {
  const there = await readPublished(to.path, to.shown);
  if (!there.ok) return there;
  const { signal, version, app } = desk.environment;
  const settings = settingsOf(options);
  const made = await makeSet(open, {
    settings,
    madeBy: `Benchwright ${version}`,
    explorer: join(app, '..', 'explorer.html'),
    ...(options.format === undefined ? {} : { formats: options.format }),
    signal,
    progress: (what, done, total) => desk.progress.show(what, done, total),
  });
  desk.progress.clear();
  if (!made.ok) return made;
  const { files, list, digest } = made.value;
  try {
    await writeWholeFolder(to.path, [...files, list], {
      replace: there.value !== null,
      signal,
    });
  } catch (error) {
    if (error instanceof Stopped) throw error;
    return fail(refusal(error, to.shown, 'written'));
  }
  const names = files.map(({ name }) => name);
  return succeed({
    json: { lab: labToJson(open), folder: to.shown, files: names, digest, settings },
    print: (page) => printPublished(page, open.lab, to.shown, names),
    notes: made.warnings,
  });
}

/** A set is stale where a source has changed, is gone or is new, or where a document was changed by hand. */
async function checkSet(desk: Desk, open: OpenLab, path: string, shown: string): Promise<Outcome<Report>> {
  const there = await readPublished(path, shown);
  if (!there.ok) return there;
  if (there.value === null) {
    return fail(
      problem(
        'no-such-file',
        {},
        `"${shown}" is not there: nothing has been published yet.`,
        'Publish without --check.',
      ),
    );
  }
  const from = await readSources(open, there.value.settings.language, {
    signal: desk.environment.signal,
    progress: (what, done, total) => desk.progress.show(what, done, total),
  });
  desk.progress.clear();
  if (!from.ok) return from;
  const now = new Map(from.value.sources.map(({ file, sha256 }) => [file, sha256]));
  const before = there.value.sources;
  const changedSources = [...new Set([...now.keys(), ...Object.keys(before)])].filter(
    (file) => now.get(file) !== before[file],
  );
  const changedDocuments = await changedFiles(path, there.value);
  const problems: Problem[] = [
    ...changedSources.map((file) =>
      problem(
        'stale',
        {},
        `${file} ${saySource(now.get(file), before[file])} since the documents were published.`,
        'Publish again.',
      ),
    ),
    ...changedDocuments.map((file) =>
      problem(
        'stale',
        {},
        `${shown}/${file} is missing, or was changed by hand after it was published.`,
        'Publish again.',
      ),
    ),
  ];
  const stale = changedSources.length > 0 ? Object.keys(there.value.files) : changedDocuments;
  return succeed({
    json: {
      lab: labToJson(open),
      folder: shown,
      up_to_date: stale.length === 0,
      stale,
      changed_sources: changedSources,
    },
    print: (page) => printStale(page, shown, Object.keys(there.value?.files ?? {}).length, stale.length),
    notes: from.warnings,
    problems,
  });
}

function saySource(now: string | undefined, before: string | undefined): string {
  if (before === undefined) return 'is new';
  return now === undefined ? 'is gone' : 'has changed';
}

function settingsOf({ language, mark, paper, notation }: Options): PrintSettings {
  const ofLanguage = language === 'de' ? 'comma' : 'point';
  return { language, decimalMark: (mark ?? ofLanguage) === 'comma' ? ',' : '.', paper, notation };
}
