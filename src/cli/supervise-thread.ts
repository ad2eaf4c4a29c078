import { Worker } from 'node:worker_threads';
import { exitCodes } from './exit-code.ts';
import type { ThreadMessage, ThreadOrder, ThreadStream } from './thread-messages.ts';

/** How long the thread may tidy up after Ctrl-C before it is ended, ms. */
const patience = 2000;

/**
 * Starts the thread that does the work, prints what it says, and ends the program with its exit code.
 *
 * Ctrl-C sets the shared flag, which computations and writers look at; a second Ctrl-C, or two seconds, end the
 * program at once.
 */
export function superviseThread(program: URL): void {
  const stop = new SharedArrayBuffer(4);
  const order: ThreadOrder = {
    args: process.argv.slice(2),
    folder: process.cwd(),
    stop,
    out: describe(process.stdout),
    err: describe(process.stderr),
  };
  const thread = new Worker(program, { workerData: order });
  let code: number = exitCodes.unusable;
  thread.on('message', (message: ThreadMessage) => {
    if (message.kind === 'exit') code = message.code;
    else (message.to === 'out' ? process.stdout : process.stderr).write(message.text);
  });
  thread.on('error', (error) => {
    process.stderr.write(
      `Something went wrong inside benchwright (${error.message}). Please report it, with the command and the lab file.\n`,
    );
    process.exitCode = exitCodes.unusable;
  });
  thread.on('exit', () => {
    process.exitCode ??= code;
    // Signals are no longer listened to, and what is still in a pipe is written before the program ends.
    process.removeAllListeners('SIGINT');
    process.removeAllListeners('SIGTERM');
  });
  const askToStop = (): void => {
    if (Atomics.exchange(new Int32Array(stop), 0, 1) === 1) process.exit(exitCodes.stopped);
    code = exitCodes.stopped;
    setTimeout(() => process.exit(exitCodes.stopped), patience).unref();
  };
  process.on('SIGINT', askToStop);
  process.on('SIGTERM', askToStop);
  // A reader that has seen enough (head, less) closes the pipe: no more is to be done, and nothing is wrong.
  process.stdout.on('error', (error) =>
    process.exit('code' in error && error.code === 'EPIPE' ? exitCodes.done : exitCodes.unusable),
  );
}

function describe(stream: NodeJS.WriteStream): ThreadStream {
  return { isTerminal: stream.isTTY === true, columns: stream.columns };
}
