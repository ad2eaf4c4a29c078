import { findLabFolder, type LabFolder, readerOf, readLabText } from '../files/index.ts';
import { createPipeline, type Lab, loadTrials, type Pipeline, readLab, type TrialRun } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { Desk } from './desk.ts';

/** A lab that was found, read and checked. */
export interface OpenLab {
  readonly folder: LabFolder;
  readonly text: string;
  readonly lab: Lab;
  readonly pipeline: Pipeline;
}

/** Opens the lab that the user named; the desk remembers it for the places in messages. */
export async function openLab(desk: Desk, written = '.'): Promise<Outcome<OpenLab>> {
  const folder = await findLabFolder(written, desk.environment.folder, desk.environment.shippedLabs);
  if (!folder.ok) return folder;
  desk.opened = { folder: folder.value, text: '' };
  const text = await readLabText(folder.value);
  if (!text.ok) return text;
  desk.opened = { folder: folder.value, text: text.value };
  const lab = readLab(text.value, folder.value.labFile);
  if (!lab.ok) return lab;
  return succeed(
    { folder: folder.value, text: text.value, lab: lab.value, pipeline: createPipeline(lab.value) },
    lab.warnings,
  );
}

/** Reads the trials of an opened lab, with a bar on a terminal. */
export async function loadRuns(desk: Desk, { folder, lab }: OpenLab): Promise<Outcome<readonly TrialRun[]>> {
  const loaded = await loadTrials(lab, readerOf(folder), {
    signal: desk.environment.signal,
    progress: (done, total) => desk.progress.show('reading trials', done, total),
  });
  desk.progress.clear();
  return loaded;
}
