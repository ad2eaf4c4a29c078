import { editLabText } from '../../src/edit/index.ts';
import {
  createPipeline,
  type Lab,
  type LabDocument,
  loadTrials,
  type Pipeline,
  type ReadFile,
  readDocument,
  readLab,
  type TrialRun,
} from '../../src/lab/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { fail, problem, succeed } from '../../src/problem/index.ts';
import { LAB_FILE } from '../bench/lab-file.ts';
import type { LabSource, SourceFile } from './source.ts';
import { withoutEffects } from './without-effects.ts';

/** A lab that was read and compiled, without its trials. */
interface ReadLab {
  readonly text: string;
  readonly document: LabDocument;
  readonly lab: Lab;
  readonly pipeline: Pipeline;
}

/** A lab that a worker has open: read, compiled, with its trials. */
export interface OpenedLab extends ReadLab {
  readonly trials: readonly TrialRun[];
}

/** Where a worker keeps what it has read, so that a slider's next position costs no more than it must. */
export interface Room {
  open(source: LabSource): Promise<Outcome<OpenedLab>>;
  /** The lab alone, where each trial is looked at for itself: one that is broken does not hide the others. */
  openAlone(source: LabSource): Outcome<ReadLab>;
  /** Gives the bytes of the files of a source. */
  readerOf(files: readonly SourceFile[]): ReadFile;
}

/** Labs kept open: the last few positions of a slider are not worth more. */
const MOST_OPEN = 4;

export function createRoom(): Room {
  const opened = new Map<string, Promise<Outcome<OpenedLab>>>();
  const contents = new Map<string, Promise<Uint8Array<ArrayBuffer> | null>>();
  let alone: { readonly key: string; readonly read: Outcome<ReadLab> } | null = null;

  const contentOf = (file: SourceFile): Promise<Uint8Array<ArrayBuffer> | null> => {
    const known = contents.get(file.digest);
    if (known !== undefined) return known;
    const content = 'bytes' in file.from ? Promise.resolve(file.from.bytes) : fetchBytes(file.from.address);
    contents.set(file.digest, content);
    // What could not be fetched is tried again the next time.
    void content.then((bytes) => bytes ?? contents.delete(file.digest));
    return content;
  };

  const readerOf =
    (files: readonly SourceFile[]): ReadFile =>
    async (path) => {
      const file = files.find((one) => one.path === path);
      const bytes = file === undefined ? null : await contentOf(file);
      return bytes === null ? fail(missingFile(path, file !== undefined)) : succeed(bytes);
    };

  const openAlone = (source: LabSource): Outcome<ReadLab> => {
    const key = JSON.stringify([source.text, source.settings, source.without]);
    if (alone?.key === key) return alone.read;
    const read = readAlone(source);
    alone = { key, read };
    return read;
  };

  const open = async (source: LabSource): Promise<Outcome<OpenedLab>> => {
    const read = openAlone(source);
    if (!read.ok) return read;
    const trials = await loadTrials(read.value.lab, readerOf(source.files));
    if (!trials.ok) return trials;
    return succeed({ ...read.value, trials: trials.value }, [...read.warnings, ...trials.warnings]);
  };

  return {
    openAlone,
    readerOf,
    open(source) {
      const key = JSON.stringify([
        source.text,
        source.settings,
        source.without,
        source.files.map(({ path, digest }) => [path, digest]),
      ]);
      const known = opened.get(key);
      if (known !== undefined) return known;
      const opening = open(source);
      opened.set(key, opening);
      for (const old of [...opened.keys()].slice(0, Math.max(0, opened.size - MOST_OPEN))) opened.delete(old);
      return opening;
    },
  };
}

function readAlone(source: LabSource): Outcome<ReadLab> {
  const text = textOf(source);
  if (!text.ok) return text;
  const document = readDocument(text.value, LAB_FILE);
  if (!document.ok) return document;
  const lab = readLab(text.value, LAB_FILE);
  if (!lab.ok) return lab;
  return succeed(
    {
      text: text.value,
      document: document.value,
      lab: lab.value,
      pipeline: createPipeline(lab.value),
    },
    lab.warnings,
  );
}

/** The text with what is in the hand written in, and without the effects that are switched off. */
function textOf({ text, settings, without }: LabSource): Outcome<string> {
  const set = editLabText(
    text,
    settings.map(([name, written]) => ({ kind: 'set', at: ['quantities', name, 'value'], to: written })),
  );
  return set.ok && without.length > 0 ? withoutEffects(set.value, without) : set;
}

async function fetchBytes(address: string): Promise<Uint8Array<ArrayBuffer> | null> {
  try {
    const response = await fetch(address);
    return response.ok ? new Uint8Array(await response.arrayBuffer()) : null;
  } catch {
    return null;
  }
}

function missingFile(path: string, isListed: boolean) {
  return isListed
    ? problem('unreadable-file', { file: path }, `"${path}" could not be fetched from the server.`)
    : problem(
        'missing-file',
        { file: path },
        `There is no file "${path}" in the lab folder.`,
        'Drop it in under trials, or take the run out.',
      );
}
