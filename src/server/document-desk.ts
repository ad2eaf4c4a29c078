import { Worker } from 'node:worker_threads';
import { Stopped, type TellProgress } from '../files/index.ts';
import type { Outcome } from '../problem/index.ts';
import { Cancelled } from '../reconcile/index.ts';
import { type DocumentOrder, type MadeDocuments, makeDocuments } from './document-job.ts';
import type { ThreadData, ThreadSaying } from './document-thread.ts';

/** Makes documents for pages, one order after another. */
export interface DocumentDesk {
  /**
   * @param signal tells that nobody waits any more: the work is given up at its next look, or after a while at once
   * @returns null where it was given up, or too many wait already
   */
  make(
    order: DocumentOrder,
    signal: AbortSignal,
    progress: TellProgress,
  ): Promise<Outcome<MadeDocuments> | null>;
  /** Whether one more order would have to wait behind too many. */
  readonly isBusy: boolean;
}

/** Orders that may wait or be worked on. */
const MOST_ORDERS = 6;

/** How long work that was given up may take to notice, ms. */
const PATIENCE = 2000;

/**
 * @param thread the program of the thread that makes the documents, so that pages are answered meanwhile; null where
 *               they are made in this one
 */
export function createDocumentDesk(thread: URL | null): DocumentDesk {
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();
  return {
    get isBusy() {
      return waiting >= MOST_ORDERS;
    },
    make(order, signal, progress) {
      if (waiting >= MOST_ORDERS) return Promise.resolve(null);
      waiting++;
      const work = last.then(async () => {
        if (signal.aborted) return null;
        return thread === null
          ? makeHere(order, signal, progress)
          : makeInThread(thread, order, signal, progress);
      });
      last = work.catch(() => undefined).finally(() => waiting--);
      return work;
    },
  };
}

async function makeHere(order: DocumentOrder, signal: AbortSignal, progress: TellProgress) {
  try {
    return await makeDocuments(order, signal, progress);
  } catch (error) {
    if (error instanceof Stopped || error instanceof Cancelled) return null;
    throw error;
  }
}

function makeInThread(
  program: URL,
  order: DocumentOrder,
  signal: AbortSignal,
  progress: TellProgress,
): Promise<Outcome<MadeDocuments> | null> {
  const stop = new SharedArrayBuffer(4);
  const data: ThreadData = { order, stop };
  const worker = new Worker(program, { workerData: data });
  return new Promise((resolve, reject) => {
    const giveUp = (): void => {
      Atomics.store(new Int32Array(stop), 0, 1);
      setTimeout(() => void worker.terminate(), PATIENCE).unref();
    };
    let made: Outcome<MadeDocuments> | null = null;
    worker.on('message', (saying: ThreadSaying) => {
      if (saying.kind === 'progress') progress(saying.what, saying.done, saying.total);
      if (saying.kind === 'done') made = saying.made;
    });
    worker.on('error', reject);
    worker.on('exit', () => {
      signal.removeEventListener('abort', giveUp);
      resolve(signal.aborted ? null : made);
    });
    signal.addEventListener('abort', giveUp);
    if (signal.aborted) giveUp();
  });
}
