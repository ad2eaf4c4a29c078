import type { Problem } from '../../src/problem/index.ts';
import type { Crew, Job, Lane } from './crew.ts';
import type { Answers, Questions, TaskName } from './tasks.ts';

/** What a screen knows of a piece of work. */
export interface TaskState<Name extends TaskName> {
  /** The last answer; it may be to an older question while the next is being worked on. */
  readonly answer: Answers[Name] | null;
  /** The question that `answer` belongs to. */
  readonly answered: Questions[Name] | null;
  /** Why the last question has no answer. */
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly isWorking: boolean;
  readonly progress: { readonly done: number; readonly total: number; readonly what: string } | null;
}

export interface TaskOptions {
  /** How long nothing must have changed before long work begins, ms. */
  readonly pauseMs?: number;
  /** Goes before other work of its lane. */
  readonly isUrgent?: boolean;
}

/** A person who types or drags pauses for less than this between two changes. */
const USUAL_PAUSE = 250;

/**
 * Asks one kind of question again and again, always the newest.
 *
 * On the lane that follows the hand a question in progress is let finish, for its answer is on the screen before the
 * next could be; those between it and the newest are skipped. On the long lane the newest question waits until
 * nothing has changed for a moment, and ends the work on the one before.
 */
export class TaskRunner<Name extends TaskName> {
  #state: TaskState<Name> = {
    answer: null,
    answered: null,
    problems: [],
    warnings: [],
    isWorking: false,
    progress: null,
  };
  #question: Questions[Name] | null = null;
  #job: Job | null = null;
  #waiting: ReturnType<typeof setTimeout> | null = null;
  readonly #crew: Crew;
  readonly #lane: Lane;
  readonly #task: Name;
  readonly #options: TaskOptions;
  readonly #listeners = new Set<() => void>();

  constructor(crew: Crew, lane: Lane, task: Name, options: TaskOptions = {}) {
    this.#crew = crew;
    this.#lane = lane;
    this.#task = task;
    this.#options = options;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly getState = (): TaskState<Name> => this.#state;

  /** The newest question; null for none. Equal questions are the same object. */
  ask(question: Questions[Name] | null): void {
    if (question === this.#question) return;
    this.#question = question;
    if (question === null) {
      this.stop();
      return;
    }
    if (this.#lane === 'follow') {
      if (this.#job === null) this.#begin(question);
      return;
    }
    this.#callOff();
    this.#change({ isWorking: true, progress: null });
    this.#waiting = setTimeout(() => this.#begin(question), this.#options.pauseMs ?? USUAL_PAUSE);
  }

  /** Ends the work; the last answer stays. */
  stop(): void {
    this.#callOff();
    this.#question = null;
    this.#change({ isWorking: false, progress: null });
  }

  #callOff(): void {
    if (this.#waiting !== null) clearTimeout(this.#waiting);
    this.#waiting = null;
    this.#job?.cancel();
    this.#job = null;
  }

  #begin(question: Questions[Name]): void {
    this.#waiting = null;
    this.#change({ isWorking: true, progress: null });
    this.#job = this.#crew.ask(this.#lane, this.#task, question, {
      isUrgent: this.#options.isUrgent ?? false,
      progress: (done, total, what) => this.#change({ progress: { done, total, what } }),
      done: (outcome) => {
        this.#job = null;
        const isNewest = this.#question === question;
        this.#change({
          isWorking: !isNewest,
          progress: null,
          ...(outcome.ok
            ? { answer: outcome.value, answered: question, problems: [], warnings: outcome.warnings }
            : { problems: outcome.problems, warnings: [] }),
        });
        if (!isNewest && this.#question !== null) this.#begin(this.#question);
      },
    });
  }

  #change(part: Partial<TaskState<Name>>): void {
    this.#state = { ...this.#state, ...part };
    for (const listener of this.#listeners) listener();
  }
}
