import { resolve } from 'node:path';
import { type Command, Option } from 'commander';
import * as z from 'zod';
import {
  changedFiles,
  type LabFile,
  type LabTexts,
  listOf,
  readCompanions,
  readLabTexts,
  readPublished,
  readTrialFiles,
  refusal,
  Stopped,
  writeWholeFolder,
} from '../../files/index.ts';
import { createPipeline, readDocument, readLab } from '../../lab/index.ts';
import type { Outcome, Problem } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import {
  createTexts,
  digestOf,
  gather,
  makeProvenance,
  type PrintSettings,
  type Provenance,
  SET_FORMATS,
  translateLab,
  writeSet,
} from '../../publish/index.ts';
import type { Desk } from '../desk.ts';
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

/** Digests of everything that documents are made from. */
async function sourcesOf(desk: Desk, open: OpenLab, language: string) {
  const texts = await readLabTexts(open.folder, language);
  if (!texts.ok) return texts;
  const spoken = speak(open, texts.value.words);
  if (!spoken.ok) return spoken;
  const runs = await loadRuns(desk, spoken.value.open);
  if (!runs.ok) return runs;
  const trials = new Map(runs.value.map(({ entry, sha256 }) => [entry.file, sha256]));
  const sources: Provenance['sources'] = [
    { file: open.folder.labFile, sha256: digestOf(open.text) },
    ...texts.value.files.map(({ path, sha256 }) => ({ file: path, sha256 })),
    ...[...trials].map(([file, sha256]) => ({ file, sha256 })),
  ];
  const found = { ...spoken.value, texts: texts.value, runs: runs.value, trials, sources };
  return succeed(found, [...spoken.warnings, ...runs.warnings]);
}

/** The lab with its words in the language of the documents, as far as the author has put them into it. */
function speak(
  open: OpenLab,
  words: LabTexts['words'],
): Outcome<{ readonly open: OpenLab; readonly translated: ReadonlySet<string> }> {
  if (words === null) return succeed({ open, translated: new Set() });
  const translation = translateLab(open.text, words.source, words.file);
  if (!translation.ok) return translation;
  const { text, translated } = translation.value;
  const lab = readLab(text, open.folder.labFile);
  if (!lab.ok) {
    const [first] = lab.problems;
    const message = `With these words in place of its own the lab cannot be read: ${first?.message ?? ''}`;
    return fail(
      problem(
        'untranslatable',
        { file: words.file },
        message,
        'Leave out what is no words, such as symbols and kinds.',
      ),
    );
  }
  const spoken = { ...open, text, lab: lab.value, pipeline: createPipeline(lab.value) };
  return succeed({ open: spoken, translated }, translation.warnings);
}

async function publish(
  desk: Desk,
  open: OpenLab,
  options: Options,
  to: { readonly path: string; readonly shown: string },
): Promise<Outcome<Report>> {
  const there = await readPublished(to.path, to.shown);
  if (!there.ok) return there;
  const from = await sourcesOf(desk, open, options.language);
  if (!from.ok) return from;
  const spoken = from.value.open;
  const document = readDocument(spoken.text, open.folder.labFile);
  if (!document.ok) return document;
  const { signal, version } = desk.environment;
  const gathered = gather(spoken.pipeline, document.value, from.value.runs, {
    signal,
    progress: (done, total) => desk.progress.show('computing', done, total),
  });
  desk.progress.clear();
  if (!gathered.ok) return gathered;
  const settings = settingsOf(options);
  const madeBy = `Benchwright ${version}`;
  const labFiles = await labFilesOf(open, from.value);
  if (!labFiles.ok) return labFiles;
  const written = await writeSet(gathered.value, {
    settings,
    sources: from.value.sources,
    madeBy,
    texts: createTexts(from.value.texts),
    translated: from.value.translated,
    labFiles: labFiles.value,
    ...(options.format === undefined ? {} : { formats: options.format }),
    progress: (done, total) => {
      if (signal.aborted) throw new Stopped();
      desk.progress.show('writing documents', done, total);
    },
  });
  desk.progress.clear();
  if (!written.ok) return written;
  const files = written.value;
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
    notes: [...from.warnings, ...gathered.warnings, ...written.warnings],
  });
}

/** The lab's own folder as it goes into the pack: everything that documents are made from, and what says what it is. */
async function labFilesOf(
  { folder }: OpenLab,
  { texts, trials }: { readonly texts: LabTexts; readonly trials: ReadonlyMap<string, string> },
): Promise<Outcome<readonly LabFile[]>> {
  const raw = await readTrialFiles(folder, trials);
  if (!raw.ok) return raw;
  return succeed([...(await readCompanions(folder)), ...texts.files, ...raw.value]);
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
  const from = await sourcesOf(desk, open, there.value.settings.language);
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
