import type { Answered, Asked } from './asker.ts';
import { showPage } from './page/page.ts';
import { answer, type TaskName } from './tasks/index.ts';

/** One script is page and worker: the engine is in the file once. */
if (typeof document === 'undefined') {
  self.onmessage = ({ data }: MessageEvent<Asked>) => void work(data);
} else {
  showPage();
}

async function work<Name extends TaskName>({ id, name, question }: Asked<Name>): Promise<void> {
  const message: Answered<Name> = { id, outcome: await answer(name, question) };
  self.postMessage(message);
}
