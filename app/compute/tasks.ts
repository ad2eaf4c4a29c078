import type { Task } from './task.ts';
import { bestChoiceTask } from './tasks/best-choice.ts';
import { classListTask } from './tasks/class-list.ts';
import { coverTask } from './tasks/cover.ts';
import { derivationTask } from './tasks/derivation.ts';
import { kitsTask } from './tasks/kits.ts';
import { ledgerTask } from './tasks/ledger.ts';
import { markTask } from './tasks/mark.ts';
import { motionTask } from './tasks/motion.ts';
import { overlayTask } from './tasks/overlay.ts';
import { rehearseTask } from './tasks/rehearse.ts';
import { stationsTask } from './tasks/stations.ts';
import { stepsTask } from './tasks/steps.ts';
import { trialFileTask } from './tasks/trial-file.ts';
import { trialReadingsTask } from './tasks/trial-readings.ts';
import { trialsTask } from './tasks/trials.ts';
import { variationTask } from './tasks/variation.ts';

/** Everything that workers can be asked for. A new kind of work is a file in tasks/ and a line here. */
const table = {
  'best choice': bestChoiceTask,
  'class list': classListTask,
  cover: coverTask,
  derivation: derivationTask,
  kits: kitsTask,
  ledger: ledgerTask,
  mark: markTask,
  motion: motionTask,
  overlay: overlayTask,
  rehearse: rehearseTask,
  stations: stationsTask,
  steps: stepsTask,
  trials: trialsTask,
  'trial file': trialFileTask,
  'trial readings': trialReadingsTask,
  variation: variationTask,
};

type Table = typeof table;
export type TaskName = keyof Table;

/** What each task is asked. */
export type Questions = {
  readonly [Name in TaskName]: Table[Name] extends Task<infer Question, infer _> ? Question : never;
};

/** What each task answers. */
export type Answers = {
  readonly [Name in TaskName]: Table[Name] extends Task<infer _, infer Answer> ? Answer : never;
};

export const tasks: { readonly [Name in TaskName]: Task<Questions[Name], Answers[Name]> } = table;
