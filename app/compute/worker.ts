import { ExpressionTooLarge } from '../../src/expression/index.ts';
import { fail, problem } from '../../src/problem/index.ts';
import type { AskMessage, WorkerMessage } from './messages.ts';
import { createRoom } from './room.ts';
import { type TaskName, tasks } from './tasks.ts';

const room = createRoom();

self.onmessage = ({ data }: MessageEvent<AskMessage<TaskName>>) => void work(data);

async function work<Name extends TaskName>({ id, task, question }: AskMessage<Name>): Promise<void> {
  const send = (message: WorkerMessage<Name>): void => self.postMessage(message);
  const report = {
    progress: (done: number, total: number, what: string) =>
      send({ kind: 'progress', id, done, total, what }),
  };
  try {
    send({ kind: 'answer', id, outcome: await tasks[task].run(room, question, report) });
  } catch (error) {
    if (error instanceof ExpressionTooLarge) {
      const found = problem('expression-too-large', {}, 'The expressions of this lab grow too large.');
      send({ kind: 'answer', id, outcome: fail(found) });
    } else {
      send({ kind: 'broken', id, message: error instanceof Error ? error.message : String(error) });
    }
  }
}
