import type { Outcome } from '../src/problem/index.ts';
import { type Answers, answer, type Questions, type TaskName } from './tasks/index.ts';

/** To the worker. */
export interface Asked<Name extends TaskName = TaskName> {
  readonly id: number;
  readonly name: Name;
  readonly question: Questions[Name];
}

/** From the worker. */
export interface Answered<Name extends TaskName = TaskName> {
  readonly id: number;
  readonly outcome: Outcome<Answers[Name]>;
}

/** Asks for one thing after another. */
export interface Asker {
  ask<Name extends TaskName>(name: Name, question: Questions[Name]): Promise<Outcome<Answers[Name]>>;
}

/**
 * Asks a worker made from the text of the page's own script. Where the browser allows none, as some do for a page
 * from a file, the page computes by itself: slower under the hand, and the same.
 */
export function createAsker(program: string): Asker {
  const waiting = new Map<number, { hear(event: MessageEvent): void; computeHere(): void }>();
  let lastId = 0;
  let worker = startWorker(program);
  if (worker !== null) {
    worker.onmessage = (event) => waiting.get(Number(event.data.id))?.hear(event);
    worker.onerror = (event) => {
      event.preventDefault();
      worker?.terminate();
      worker = null;
      for (const one of [...waiting.values()]) one.computeHere();
    };
  }
  return {
    ask<Name extends TaskName>(name: Name, question: Questions[Name]) {
      lastId += 1;
      const id = lastId;
      return new Promise<Outcome<Answers[Name]>>((resolve) => {
        const done = (outcome: Outcome<Answers[Name]>): void => {
          waiting.delete(id);
          resolve(outcome);
        };
        const computeHere = (): void => void answer(name, question).then(done);
        if (worker === null) {
          // The page shows what it has before it computes.
          setTimeout(computeHere);
          return;
        }
        waiting.set(id, {
          hear: (event) => {
            const heard: Answered<Name> = event.data;
            done(heard.outcome);
          },
          computeHere,
        });
        const message: Asked<Name> = { id, name, question };
        worker.postMessage(message);
      });
    },
  };
}

function startWorker(program: string): Worker | null {
  try {
    const address = URL.createObjectURL(new Blob([program], { type: 'text/javascript' }));
    return new Worker(address);
  } catch {
    return null;
  }
}

/** Always the newest question: those between the one in work and the newest are passed over. */
export function askNewest<Name extends TaskName>(
  asker: Asker,
  name: Name,
  show: (outcome: Outcome<Answers[Name]>) => void,
): (question: Questions[Name]) => void {
  let isWorking = false;
  let next: Questions[Name] | null = null;
  const begin = async (question: Questions[Name]): Promise<void> => {
    isWorking = true;
    const outcome = await asker.ask(name, question);
    isWorking = false;
    const following = next;
    next = null;
    // On the way to the newest place of a slider those in between are shown: the eye follows.
    show(outcome);
    if (following !== null) void begin(following);
  };
  return (question) => {
    if (isWorking) next = question;
    else void begin(question);
  };
}
