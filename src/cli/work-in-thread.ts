import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parentPort, workerData } from 'node:worker_threads';
import type { TextStream } from './environment.ts';
import { runCli } from './run-cli.ts';
import { showAddress } from './show-address.ts';
import type { ThreadMessage, ThreadOrder, ThreadStream } from './thread-messages.ts';

/** Runs the command line in this thread; its text goes to the main thread in messages, which arrive in order. */
export async function workInThread(): Promise<void> {
  const order: ThreadOrder = workerData;
  const flag = new Int32Array(order.stop);
  const home = packageFolder();
  const documentThread = pathToFileURL(join(home, 'dist', 'document-thread.mjs'));
  const code = await runCli(
    order.args,
    { out: streamTo('out', order.out), err: streamTo('err', order.err) },
    {
      folder: order.folder,
      variables: process.env,
      shippedLabs: join(home, 'labs'),
      app: join(home, 'dist', 'app'),
      documentThread: existsSync(documentThread) ? documentThread : null,
      showAddress,
      version: versionOf(home),
      signal: {
        get aborted() {
          return Atomics.load(flag, 0) === 1;
        },
      },
    },
  );
  say({ kind: 'exit', code });
}

function streamTo(to: 'out' | 'err', { isTerminal, columns }: ThreadStream): TextStream {
  const write = (text: string): void => say({ kind: 'text', to, text });
  return columns === undefined ? { write, isTerminal } : { write, isTerminal, columns };
}

function say(message: ThreadMessage): void {
  parentPort?.postMessage(message);
}

/** The nearest folder above this file that has a package.json: the package, built or not. */
function packageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (readIfThere(join(folder, 'package.json')) === null && dirname(folder) !== folder)
    folder = dirname(folder);
  return folder;
}

function versionOf(home: string): string {
  const parsed: unknown = JSON.parse(readIfThere(join(home, 'package.json')) ?? '{}');
  const version: unknown =
    typeof parsed === 'object' && parsed !== null ? Reflect.get(parsed, 'version') : undefined;
  return typeof version === 'string' ? version : 'unknown';
}

function readIfThere(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}
