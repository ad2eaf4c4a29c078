import type { Outcome } from '../../src/problem/index.ts';
import type { Answers, Questions, TaskName } from './tasks.ts';

/** To a worker: do this. */
export interface AskMessage<Name extends TaskName> {
  readonly id: number;
  readonly task: Name;
  readonly question: Questions[Name];
}

/** From a worker: how far it is, or what came out. */
export type WorkerMessage<Name extends TaskName> =
  | {
      readonly kind: 'progress';
      readonly id: number;
      readonly done: number;
      readonly total: number;
      readonly what: string;
    }
  | { readonly kind: 'answer'; readonly id: number; readonly outcome: Outcome<Answers[Name]> }
  /** A mistake of ours, not of the lab: an exception. */
  | { readonly kind: 'broken'; readonly id: number; readonly message: string };
