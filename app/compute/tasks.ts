import type { Task } from './task.ts';
import { ledgerTask } from './tasks/ledger.ts';
import { overlayTask } from './tasks/overlay.ts';

/** Everything that workers can be asked for. A new kind of work is a file in tasks/ and a line here. */
const table = {
  ledger: ledgerTask,
  overlay: overlayTask,
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
