import { spawn } from 'node:child_process';
import { existsSync, watch } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { makeFolder, shippedLabs } from './run-in-memory.ts';

// `npm test` builds the program first; a single run of this file before any build has nothing to start.
const program = fileURLToPath(new URL('../../dist/cli.mjs', import.meta.url));
const folder = await makeFolder();

interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Starts the built program; `during` may do something to it while it runs. */
function start(
  args: readonly string[],
  during: (program: ReturnType<typeof spawn>) => void = () => undefined,
): Promise<Ended> {
  const child = spawn(process.execPath, [program, ...args], { cwd: folder });
  const out: string[] = [];
  const err: string[] = [];
  child.stdout.on('data', (chunk) => out.push(String(chunk)));
  child.stderr.on('data', (chunk) => err.push(String(chunk)));
  during(child);
  return new Promise((resolve) => {
    child.on('close', (code) => resolve({ code, out: out.join(''), err: err.join('') }));
  });
}

describe.skipIf(!existsSync(program))('the program as it is installed', () => {
  it('finds its own labs from any folder, and ends with the code of the verb', async () => {
    const good = await start(['predict', 'tow-chain', '--json']);
    expect([good.code, good.err]).toEqual([0, '']);
    expect(JSON.parse(good.out).lab.folder).toBe(`${shippedLabs}tow-chain`);
    expect(await start(['predict', 'no-such-lab'])).toMatchObject({ code: 2, out: '' });
  });

  it('hears Ctrl-C in the middle of a computation, ends quietly with 130 and leaves no file', async () => {
    const args = ['rehearse', 'tow-chain', '--repeats', '1000000', '--out', 'rehearsed'];
    // The lab is read within this time even on a slow machine; a million rehearsals take far longer.
    const ended = await start(args, (child) => setTimeout(() => child.kill('SIGINT'), 2500));
    expect(ended).toEqual({ code: 130, out: '', err: '' });
    expect(await readdir(folder)).toEqual([]);
  });

  it('leaves the previous set of documents whole where it is killed while it writes the next', async () => {
    const parent = await makeFolder();
    const args = ['publish', 'draped-chain', '--format', 'html', '--out', join(parent, 'set')];
    expect((await start(args)).code).toBe(0);
    const before = (await readdir(join(parent, 'set'))).sort();
    const killed = await start([...args, '--paper', 'letter'], (child) => {
      const eye = watch(parent, (_event, name) => {
        if (name?.endsWith('.new') === true) child.kill('SIGKILL');
      });
      child.on('close', () => eye.close());
    });
    expect(killed.code).toBeNull();
    expect((await start([...args, '--check'])).code).toBe(0);
    expect((await readdir(join(parent, 'set'))).sort()).toEqual(before);
  }, 180_000);

  it('serves the app until Ctrl-C, which is its ordinary end', async () => {
    const asked: Promise<number>[] = [];
    const ended = await start(['open', 'tow-chain', '--port', '0', '--no-browser', '--json'], (child) => {
      let told = '';
      child.stdout?.on('data', (chunk) => {
        told += String(chunk);
        if (!told.includes('\n}\n') || asked.length > 0) return;
        const { address } = JSON.parse(told);
        asked.push(fetch(`${address}api/shelf`).then((answer) => answer.status));
        void asked[0]?.finally(() => child.kill('SIGINT'));
      });
    });
    expect([ended.code, ended.err, await asked[0]]).toEqual([0, '', 200]);
  });

  it('makes documents in a thread of their own while it answers', async () => {
    let lines = '';
    const asked: Promise<void>[] = [];
    const talk = async (address: string): Promise<void> => {
      const headers = { Origin: address.slice(0, -1), 'Content-Type': 'application/json' };
      const shelf: unknown = await (await fetch(`${address}api/shelf`)).json();
      const id = typeof shelf === 'object' && shelf !== null ? String(Reflect.get(shelf, 'opened')) : '';
      const body = JSON.stringify({ formats: ['html'], documents: ['equipment list'] });
      const made = fetch(`${address}api/labs/${id}/publish`, { method: 'POST', headers, body });
      expect((await fetch(`${address}api/shelf`)).status).toBe(200);
      lines = await (await made).text();
    };
    const ended = await start(['open', 'long-swing', '--port', '0', '--no-browser', '--json'], (child) => {
      let told = '';
      child.stdout?.on('data', (chunk) => {
        told += String(chunk);
        if (!told.includes('\n}\n') || asked.length > 0) return;
        asked.push(talk(JSON.parse(told).address));
        void asked[0]?.finally(() => child.kill('SIGINT'));
      });
    });
    await asked[0];
    expect([ended.code, ended.err]).toEqual([0, '']);
    expect(JSON.parse(lines.trimEnd().split('\n').at(-1) ?? '')).toMatchObject({
      files: [{ path: 'equipment-list.html' }],
    });
  });

  it('ends quietly where its reader has seen enough', async () => {
    const ended = await start(['check', 'tow-chain', '--json'], (child) => child.stdout?.destroy());
    expect(ended).toMatchObject({ code: 0, err: '' });
  });
});
