import { readFile } from 'node:fs/promises';
import {
  createPipeline,
  type Lab,
  loadTrials,
  type Pipeline,
  readDocument,
  readLab,
  type TrialRun,
} from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed, warning } from '../problem/index.ts';
import {
  createTexts,
  digestOf,
  gather,
  makeProvenance,
  type PrintSettings,
  type Provenance,
  translateLab,
  writeSet,
} from '../publish/index.ts';
import { type LabFolder, readerOf } from './lab-folder.ts';
import { type LabFile, type LabTexts, readCompanions, readLabTexts, readTrialFiles } from './lab-texts.ts';
import { listOf } from './published-set.ts';
import { type NewFile, Stopped } from './whole-files.ts';

/** A lab that was read and checked. */
export interface ReadLab {
  readonly folder: LabFolder;
  readonly text: string;
  readonly lab: Lab;
  readonly pipeline: Pipeline;
  /** Whether the text is not that of the file on the disk; it then goes into the pack in its place. */
  readonly isUnsaved?: boolean;
}

/** Says how far a piece of work has come: 'computing', 3 of 10. */
export type TellProgress = (what: string, done: number, total: number) => void;

/** Everything that the documents of a lab are made from. */
export interface LabSources {
  /** The lab with its words in the language of the documents. */
  readonly spoken: ReadLab;
  readonly translated: ReadonlySet<string>;
  readonly texts: LabTexts;
  readonly runs: readonly TrialRun[];
  /** SHA-256 of each raw file. */
  readonly trials: ReadonlyMap<string, string>;
  readonly sources: Provenance['sources'];
}

export interface SetOptions {
  readonly settings: PrintSettings;
  /** 'Benchwright 0.1.0'. */
  readonly madeBy: string;
  /** Formats of the set; all where left out. */
  readonly formats?: readonly string[];
  /** Where the built explorer lies; null where there is none. */
  readonly explorer: string | null;
  /** Documents of the set by kind or name; all where left out. */
  readonly documents?: readonly string[];
  readonly signal: { readonly aborted: boolean };
  readonly progress: TellProgress;
}

/** A published set in memory, with the list that says what it was made from. */
export interface LabSet {
  readonly files: readonly NewFile[];
  readonly list: NewFile;
  readonly digest: string;
}

/** Reads everything that documents are made from, with its digests. */
export async function readSources(
  read: ReadLab,
  language: string,
  { signal, progress }: Pick<SetOptions, 'signal' | 'progress'>,
): Promise<Outcome<LabSources>> {
  const texts = await readLabTexts(read.folder, language);
  if (!texts.ok) return texts;
  const spoken = speak(read, texts.value.words);
  if (!spoken.ok) return spoken;
  const runs = await loadTrials(spoken.value.spoken.lab, readerOf(read.folder), {
    signal,
    progress: (done, total) => progress('reading trials', done, total),
  });
  if (!runs.ok) return runs;
  const trials = new Map(runs.value.map(({ entry, sha256 }) => [entry.file, sha256]));
  const sources: Provenance['sources'] = [
    { file: read.folder.labFile, sha256: digestOf(read.text) },
    ...texts.value.files.map(({ path, sha256 }) => ({ file: path, sha256 })),
    ...[...trials].map(([file, sha256]) => ({ file, sha256 })),
  ];
  const found = { ...spoken.value, texts: texts.value, runs: runs.value, trials, sources };
  return succeed(found, [...spoken.warnings, ...runs.warnings]);
}

/** The lab with its words in another language, as far as the author has put them into it. */
export async function speakLab<Read extends ReadLab>(read: Read, language: string): Promise<Outcome<Read>> {
  const texts = await readLabTexts(read.folder, language);
  if (!texts.ok) return texts;
  const spoken = speak(read, texts.value.words);
  return spoken.ok ? succeed({ ...read, ...spoken.value.spoken }, spoken.warnings) : spoken;
}

/** The lab with its words in the language of the documents, as far as the author has put them into it. */
function speak(
  read: ReadLab,
  words: LabTexts['words'],
): Outcome<{ readonly spoken: ReadLab; readonly translated: ReadonlySet<string> }> {
  if (words === null) return succeed({ spoken: read, translated: new Set() });
  const translation = translateLab(read.text, words.source, words.file);
  if (!translation.ok) return translation;
  const { text, translated } = translation.value;
  const lab = readLab(text, read.folder.labFile);
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
  const spoken = { ...read, text, lab: lab.value, pipeline: createPipeline(lab.value) };
  return succeed({ spoken, translated }, translation.warnings);
}

/**
 * Makes the documents of a lab, in memory.
 *
 * @throws Stopped, or what the computation throws, where `signal` asks for it
 */
export async function makeSet(read: ReadLab, options: SetOptions): Promise<Outcome<LabSet>> {
  const { settings, madeBy, signal, progress, formats, documents } = options;
  const from = await readSources(read, settings.language, options);
  if (!from.ok) return from;
  const { spoken, sources, texts, translated, runs } = from.value;
  const document = readDocument(spoken.text, read.folder.labFile);
  if (!document.ok) return document;
  const gathered = gather(spoken.pipeline, document.value, runs, {
    signal,
    progress: (done, total) => progress('computing', done, total),
  });
  if (!gathered.ok) return gathered;
  const labFiles = await labFilesOf(read, from.value);
  if (!labFiles.ok) return labFiles;
  const template = await readTemplate(options);
  if (!template.ok) return template;
  const written = await writeSet(gathered.value, {
    settings,
    sources,
    madeBy,
    texts: createTexts(texts),
    translated,
    labFiles: labFiles.value,
    ...(formats === undefined ? {} : { formats }),
    ...(documents === undefined ? {} : { documents }),
    ...(template.value === null ? {} : { explorer: { template: template.value, labText: spoken.text } }),
    progress: (done, total) => {
      if (signal.aborted) throw new Stopped();
      progress('writing documents', done, total);
    },
  });
  if (!written.ok) return written;
  const provenance = makeProvenance(sources, settings, madeBy);
  const set = {
    files: written.value,
    list: listOf(written.value, provenance, settings),
    digest: provenance.digest,
  };
  return succeed(set, [...from.warnings, ...gathered.warnings, ...template.warnings, ...written.warnings]);
}

/** The explorer without a lab, where a format asks for it; a set without it is told of. */
async function readTemplate({ formats, explorer }: SetOptions): Promise<Outcome<string | null>> {
  const isWanted = formats === undefined || formats.includes('explorer') || formats.includes('pack');
  if (!isWanted) return succeed(null);
  const template = explorer === null ? null : await readFile(explorer, 'utf8').catch(() => null);
  if (template !== null) return succeed(template);
  const missing = warning(
    'no-explorer',
    {},
    'The explorer is left out: this copy of the program was installed or built without it.',
    'Build or install the program again.',
  );
  return succeed(null, [missing]);
}

/** The lab's own folder as it goes into the pack: everything that documents are made from, and what says what it is. */
async function labFilesOf(
  { folder, text, isUnsaved = false }: ReadLab,
  { texts, trials }: Pick<LabSources, 'texts' | 'trials'>,
): Promise<Outcome<readonly LabFile[]>> {
  const raw = await readTrialFiles(folder, trials);
  if (!raw.ok) return raw;
  const companions = (await readCompanions(folder)).map((file): LabFile => {
    if (!isUnsaved || file.path !== folder.labFile) return file;
    return { path: file.path, bytes: new TextEncoder().encode(text), sha256: digestOf(text) };
  });
  return succeed([...companions, ...texts.files, ...raw.value]);
}
