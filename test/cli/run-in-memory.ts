import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import type { Environment } from '../../src/cli/environment.ts';
import { runCli } from '../../src/cli/run-cli.ts';

export const shippedLabs = fileURLToPath(new URL('../../labs/', import.meta.url));

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export interface Circumstances {
  readonly folder?: string;
  readonly variables?: Environment['variables'];
  readonly signal?: { readonly aborted: boolean };
  readonly terminal?: { readonly columns: number };
  readonly showAddress?: Environment['showAddress'];
}

/** Runs the command with streams that are strings. */
export async function run(args: readonly string[], circumstances: Circumstances = {}): Promise<Ran> {
  const { folder = shippedLabs, variables = {}, signal = { aborted: false }, terminal } = circumstances;
  const out: string[] = [];
  const err: string[] = [];
  const face =
    terminal === undefined ? { isTerminal: false } : { isTerminal: true, columns: terminal.columns };
  const code = await runCli(
    args,
    {
      out: { write: (text) => out.push(text), ...face },
      err: { write: (text) => err.push(text), ...face },
    },
    {
      folder,
      variables,
      shippedLabs,
      app: join(shippedLabs, '..', 'dist', 'app'),
      documentThread: null,
      version: '0.0.0-test',
      showAddress: circumstances.showAddress ?? (() => false),
      signal,
    },
  );
  return { code, out: out.join(''), err: err.join('') };
}

/** A folder of its own for a test file; it is gone afterwards. */
export async function makeFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'benchwright-test-'));
  afterAll(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** A copy of a shipped lab that a test may change. */
export async function copyLab(name: string, into: string, as = name): Promise<string> {
  const copy = join(into, as);
  await cp(join(shippedLabs, name), copy, { recursive: true });
  return copy;
}
