import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { createInterface, type Interface } from 'node:readline';

/** A program that does one round of work for each line it is given, and answers with the seconds of processor time that took. */
export interface Peer {
  round(): Promise<number>;
  close(): void;
}

export function startPeer(command: string, parts: readonly string[]): Peer {
  const child: ChildProcess = spawn(command, parts, { stdio: ['pipe', 'pipe', 'inherit'] });
  if (child.stdout === null || child.stdin === null) throw new Error('The peer has no streams.');
  const { stdin } = child;
  const lines: Interface = createInterface({ input: child.stdout });
  const answers = lines[Symbol.asyncIterator]();
  return {
    async round() {
      stdin.write('go\n');
      const answer = await answers.next();
      if (answer.done === true) throw new Error(`${command} ended without an answer.`);
      return Number(answer.value);
    },
    close: () => stdin.end(),
  };
}

/** Whether a command runs and succeeds. */
export function works(command: string, parts: readonly string[]): boolean {
  return spawnSync(command, parts, { stdio: 'ignore' }).status === 0;
}
