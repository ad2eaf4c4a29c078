import type { Outcome } from '../../src/problem/index.ts';
import { fail, problem } from '../../src/problem/index.ts';
import type { AskMessage, WorkerMessage } from './messages.ts';
import type { Answers, Questions, TaskName } from './tasks.ts';

/** Two workers: one follows the hand, the other does what takes longer. */
export type Lane = 'follow' | 'long';

/** Work that was asked for. */
export interface Job {
  /** Nobody waits for it any more; a worker in the middle of it is ended. */
  cancel(): void;
}

export interface JobListener<Name extends TaskName> {
  readonly done: (outcome: Outcome<Answers[Name]>) => void;
  readonly progress?: (done: number, total: number, what: string) => void;
  /** Goes before what waits already. */
  readonly isUrgent?: boolean;
}

/** The part of a Worker that the crew needs; a test gives its own. */
export interface WorkerPort {
  postMessage(message: unknown): void;
  onmessage: ((event: MessageEvent) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** A piece of work, whatever its kind. */
interface Order {
  readonly message: { readonly id: number };
  /** Takes a message of the worker; true where the work is over. */
  hear(event: MessageEvent): boolean;
  fail(message: string): void;
}

interface Bench {
  worker: WorkerPort | null;
  queue: Order[];
  current: Order | null;
}

/**
 * Hands work to workers, one piece at a time to each.
 *
 * A worker that computes hears nothing, so work in progress is cancelled by ending the worker; its successor starts
 * with the next piece.
 */
export class Crew {
  readonly #start: () => WorkerPort;
  readonly #lanes: Readonly<Record<Lane, Bench>> = {
    follow: { worker: null, queue: [], current: null },
    long: { worker: null, queue: [], current: null },
  };
  #lastId = 0;

  constructor(start: () => WorkerPort) {
    this.#start = start;
  }

  ask<Name extends TaskName>(
    lane: Lane,
    task: Name,
    question: Questions[Name],
    listener: JobListener<Name>,
  ): Job {
    this.#lastId += 1;
    const message: AskMessage<Name> = { id: this.#lastId, task, question };
    const order: Order = {
      message,
      hear(event) {
        const heard: WorkerMessage<Name> = event.data;
        if (heard.id !== message.id) return false;
        if (heard.kind === 'progress') {
          listener.progress?.(heard.done, heard.total, heard.what);
          return false;
        }
        listener.done(heard.kind === 'answer' ? heard.outcome : fail(ourMistake(heard.message)));
        return true;
      },
      fail: (reason) => listener.done(fail(ourMistake(reason))),
    };
    const bench = this.#lanes[lane];
    if (listener.isUrgent === true) bench.queue.unshift(order);
    else bench.queue.push(order);
    // What is asked in one breath is sorted before the first of it begins.
    queueMicrotask(() => this.#advance(bench));
    return { cancel: () => this.#cancel(bench, order) };
  }

  #advance(bench: Bench): void {
    if (bench.current !== null) return;
    const next = bench.queue.shift();
    if (next === undefined) return;
    bench.worker ??= this.#hire(bench);
    bench.current = next;
    bench.worker.postMessage(next.message);
  }

  #hire(bench: Bench): WorkerPort {
    const worker = this.#start();
    worker.onmessage = (event) => {
      const { current } = bench;
      if (current?.hear(event) !== true) return;
      // An answer may have led to a cancellation of what is current by now.
      if (bench.current === current) bench.current = null;
      this.#advance(bench);
    };
    worker.onerror = (event) => {
      worker.terminate();
      bench.worker = null;
      const { current } = bench;
      bench.current = null;
      current?.fail(event.message);
      this.#advance(bench);
    };
    return worker;
  }

  #cancel(bench: Bench, order: Order): void {
    bench.queue = bench.queue.filter((one) => one !== order);
    if (bench.current !== order) return;
    bench.worker?.terminate();
    bench.worker = null;
    bench.current = null;
    this.#advance(bench);
  }
}

function ourMistake(message: string) {
  return problem(
    'our-mistake',
    {},
    `A computation broke: ${message}. This is a mistake of the program, not of the lab.`,
    'Undo the last change, and please report it with the lab file.',
  );
}
