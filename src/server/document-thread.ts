import { parentPort, workerData } from 'node:worker_threads';
import { Stopped } from '../files/index.ts';
import type { Outcome } from '../problem/index.ts';
import { Cancelled } from '../reconcile/index.ts';
import { type DocumentOrder, type MadeDocuments, makeDocuments } from './document-job.ts';

/** What the thread is started with. */
export interface ThreadData {
  readonly order: DocumentOrder;
  /** One 32-bit number: 1 as soon as nobody waits for the documents any more. */
  readonly stop: SharedArrayBuffer;
}

/** What it says: how far it is, and once, last, what came of it. */
export type ThreadSaying =
  | { readonly kind: 'progress'; readonly what: string; readonly done: number; readonly total: number }
  | { readonly kind: 'done'; readonly made: Outcome<MadeDocuments> }
  | { readonly kind: 'stopped' };

const { order, stop }: ThreadData = workerData;
const flag = new Int32Array(stop);
const say = (saying: ThreadSaying): void => parentPort?.postMessage(saying);
try {
  const signal = {
    get aborted() {
      return Atomics.load(flag, 0) === 1;
    },
  };
  const made = await makeDocuments(order, signal, (what, done, total) =>
    say({ kind: 'progress', what, done, total }),
  );
  say({ kind: 'done', made });
} catch (error) {
  if (!(error instanceof Stopped || error instanceof Cancelled)) throw error;
  say({ kind: 'stopped' });
}
