import { resolve } from 'node:path';
import { type Command, Option } from 'commander';
import * as z from 'zod';
import { readDocument } from '../../lab/index.ts';
import type { Outcome, Problem } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import {
  createTexts,
  digestOf,
  draftDocuments,
  FORMATS,
  fileNameOf,
  gather,
  gatherExtras,
  makeProvenance,
  type PrintSettings,
  type Provenance,
} from '../../publish/index.ts';
import type { Desk } from '../desk.ts';
import { refusal } from '../files/file-problems.ts';
import { readLabTexts } from '../files/lab-texts.ts';
import { changedFiles, listOf, readPublished } from '../files/published-set.ts';
import { type NewFile, Stopped, writeWholeFolder } from '../files/whole-files.ts';
import { labToJson } from '../json/lab-json.ts';
import { loadRuns, type OpenLab, openLab } from '../open-lab.ts';
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

/** Formats by the name they have on the command line; slides come in two. */
const formatNames = [...new Set(FORMATS.map(({ name }) => shortName(name)))];

export const publishVerb: Verb = {
  name: 'publish',
  what: 'Write every document of the lab, each number in it computed; the set that is there stays whole until it is done.',
  example: 'benchwright publish labs/tow-chain --out documents --format pdf',
  declare(command: Command): void {
    takeLab(command);
    command
      .option('--out <DIR>', 'where the documents go; "published" in the lab folder where left out')
      .addOption(
        new Option('--format <NAME...>', 'formats to write; all where left out').choices(formatNames),
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

/** Formats that hold the model itself, not a document. */
const MODELS: ReadonlySet<string> = new Set(['spreadsheet', 'code']);

function shortName(format: string): string {
  return format.startsWith('slides') ? 'slides' : format;
}

/** Digests of everything that documents are made from. */
async function sourcesOf(desk: Desk, open: OpenLab) {
  const texts = await readLabTexts(open.folder);
  if (!texts.ok) return texts;
  const runs = await loadRuns(desk, open);
  if (!runs.ok) return runs;
  const sources: Provenance['sources'] = [
    { file: open.folder.labFile, sha256: digestOf(open.text) },
    ...[...texts.value.digests].map(([file, sha256]) => ({ file, sha256 })),
    ...new Map(runs.value.map(({ entry, sha256 }) => [entry.file, { file: entry.file, sha256 }])).values(),
  ];
  return succeed({ texts: texts.value, runs: runs.value, sources }, runs.warnings);
}

async function publish(
  desk: Desk,
  open: OpenLab,
  options: Options,
  to: { readonly path: string; readonly shown: string },
): Promise<Outcome<Report>> {
  const there = await readPublished(to.path, to.shown);
  if (!there.ok) return there;
  const from = await sourcesOf(desk, open);
  if (!from.ok) return from;
  const document = readDocument(open.text, open.folder.labFile);
  if (!document.ok) return document;
  const { signal, version } = desk.environment;
  const gathered = gather(open.pipeline, document.value, from.value.runs, {
    signal,
    progress: (done, total) => desk.progress.show('computing', done, total),
  });
  desk.progress.clear();
  if (!gathered.ok) return gathered;
  const settings = settingsOf(options);
  const madeBy = `Benchwright ${version}`;
  const drafted = draftDocuments(
    gathered.value,
    { settings, sources: from.value.sources, madeBy },
    createTexts(from.value.texts),
  );
  if (!drafted.ok) return drafted;
  const extras = gatherExtras(gathered.value);
  const wanted = FORMATS.filter(
    ({ name }) => options.format === undefined || options.format.includes(shortName(name)),
  );
  const files: NewFile[] = [];
  const jobs = drafted.value.flatMap((tree, index) =>
    wanted
      .filter(({ kinds }) => kinds.includes(tree.kind))
      // The model as a workbook or a program is the same at every level.
      .filter(({ name }) => !MODELS.has(name) || (extras.stepwise !== null && index === 0))
      .map((format) => ({ tree, format })),
  );
  for (const { tree, format } of jobs) {
    if (signal.aborted) throw new Stopped();
    desk.progress.show('writing documents', files.length, jobs.length);
    const name = MODELS.has(format.name) ? 'model' : fileNameOf(tree);
    files.push({ name: `${name}.${format.extension}`, content: await format.write(tree, extras) });
  }
  desk.progress.clear();
  const provenance = makeProvenance(from.value.sources, settings, madeBy);
  try {
    await writeWholeFolder(to.path, [...files, listOf(files, provenance, settings)], {
      replace: there.value !== null,
      signal,
    });
  } catch (error) {
    if (error instanceof Stopped) throw error;
    return fail(refusal(error, to.shown, 'written'));
  }
  const names = files.map(({ name }) => name);
  return succeed({
    json: { lab: labToJson(open), folder: to.shown, files: names, digest: provenance.digest, settings },
    print: (page) => printPublished(page, open.lab, to.shown, names),
    notes: [...from.warnings, ...gathered.warnings, ...drafted.warnings],
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
  const from = await sourcesOf(desk, open);
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
