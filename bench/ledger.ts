import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { createPipeline, type Pipeline, readLab } from '../src/lab/index.ts';
import { createReconciler, type DrawnShares, type Reconciler } from '../src/reconcile/index.ts';
import { must } from '../test/labs/shipped-lab.ts';
import { plantTrials } from '../test/run/plant-trials.ts';

const rounds = Number(process.env.ROUNDS ?? 150);
const draws = 1000;

function open(text: string): { readonly pipeline: Pipeline; readonly reconciler: Reconciler } {
  const pipeline = createPipeline(must(readLab(text, 'lab.yaml')));
  const trials = plantTrials(pipeline, pipeline.nominal, 1);
  return { pipeline, reconciler: must(createReconciler(pipeline, trials)) };
}

/** A half of the draws, each time it is asked. */
if (!isMainThread && typeof workerData?.labText === 'string') {
  const { reconciler } = open(workerData.labText);
  parentPort?.on('message', ([from, to]: readonly [number, number]) => {
    parentPort?.postMessage(must(reconciler.drawPart({ draws }, from, to)));
  });
  parentPort?.postMessage('ready');
}

/** The ledger that follows a slider, draws of every subset on one and on two threads, an edited formula. */
export async function main(): Promise<void> {
  const text = readFileSync(resolve('bench/ledger/lab.yaml'), 'utf8');
  const { pipeline, reconciler } = open(text);
  const quantity = pipeline.lab.quantities.base.find(({ name }) => name === 'lambda');
  if (quantity === undefined) throw new Error('The lab has changed.');
  const followed = times(rounds, (round) => {
    const value = quantity.estimate.value * (1 + 1e-4 * (round % 50));
    must(reconciler.reconcile({ values: [{ quantity, value }] }));
  });
  const outlined = times(rounds, () => must(reconciler.outline()));
  print('checked ledger, 6 effects, 11 uncertain quantities', followed);
  print('its lines alone', outlined);
  for (const count of [250, 500, 1000]) {
    print(
      `${count} draws of all 64 subsets, one thread`,
      times(8, () => must(reconciler.drawPart({ draws }, 0, count))),
    );
  }
  print('1000 draws of all 64 subsets, two threads', await onTwoThreads(text));
  let edits = 0;
  const edited = times(12, () => {
    edits += 1;
    const afresh = createPipeline(
      must(readLab(text.replace('c_air*v^2', `${1 + edits / 100}*c_air*v^2`), 'lab.yaml')),
    );
    const values = afresh.values(afresh.nominal);
    must(afresh.reduce(must(afresh.simulate(values)).readings, values));
  });
  print('edited formula to its first result', edited);
}

async function onTwoThreads(labText: string): Promise<readonly Time[]> {
  const workers = [0, 1].map(() => new Worker(new URL(import.meta.url), { workerData: { labText } }));
  const answers = () =>
    Promise.all(workers.map((worker) => new Promise<DrawnShares>((done) => worker.once('message', done))));
  await answers();
  const found: Time[] = [];
  for (let round = 0; round < 8; round++) {
    const begin = performance.now();
    const both = answers();
    workers.forEach((worker, half) => {
      worker.postMessage([(half * draws) / 2, ((half + 1) * draws) / 2]);
    });
    await both;
    found.push({ passed: performance.now() - begin, worked: Number.NaN });
  }
  await Promise.all(workers.map((worker) => worker.terminate()));
  return found.slice(1);
}

/** Milliseconds by the clock, and of processor time, which other work on the machine disturbs less. */
interface Time {
  readonly passed: number;
  readonly worked: number;
}

function times(count: number, work: (round: number) => void): readonly Time[] {
  const warm = Math.min(20, Math.ceil(count / 4));
  return Array.from({ length: count + warm }, (_, round): Time => {
    const begin = performance.now();
    const before = process.cpuUsage();
    work(round);
    const { user, system } = process.cpuUsage(before);
    return { passed: performance.now() - begin, worked: (user + system) / 1000 };
  }).slice(warm);
}

function print(what: string, found: readonly Time[]): void {
  const at = (key: keyof Time, share: number): string => {
    const sorted = found.map((time) => time[key]).sort((a, b) => a - b);
    return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toPrecision(3);
  };
  console.log(
    `${what}: ${at('passed', 0.5)} ms (p95 ${at('passed', 0.95)}), processor ${at('worked', 0.5)} ms (p95 ${at('worked', 0.95)})`,
  );
}
