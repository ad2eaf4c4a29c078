import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'libsql';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { talkTo } from './lesson-talk.ts';
import { at, makeFolder } from './talk.ts';

// `npm test` builds the program first; a single run of this file before any build has nothing to start.
const program = fileURLToPath(new URL('../../dist/cli.mjs', import.meta.url));
const folder = await makeFolder();
const GROUPS = 24;
/** A result of the lab that is quickest to rehearse. */
const RESULT = 'r_b';

/** Starts the built program on a lesson; ready once it has said its addresses. */
async function startProgram() {
  const args = ['lesson', 'tired-cells', '--host', '127.0.0.1', '--port', '0', '--no-browser', '--json'];
  const child = spawn(process.execPath, [program, ...args, '--groups', String(GROUPS), '--rehearsals', '8'], {
    cwd: folder,
  });
  const said = await new Promise<unknown>((resolve, reject) => {
    let text = '';
    child.stdout.on('data', (chunk) => {
      text += String(chunk);
      if (text.trimEnd().endsWith('}')) resolve(JSON.parse(text));
    });
    child.on('close', () => reject(new Error(`the program ended: ${text}`)));
  });
  const number = (key: string) => Number(at(said, key));
  const code = String(at(said, 'code'));
  const talk = talkTo({
    address: '',
    port: number('port'),
    teacherPort: number('teacher_port'),
    code: () => code,
  });
  return { child, talk };
}

const numbersForm = z.array(z.object({ written: z.string() }));
const rowsForm = z.array(
  z.object({
    name: z.string(),
    numbers: z.string().transform((text) => numbersForm.parse(JSON.parse(text))),
  }),
);

function kill(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    child.on('close', () => resolve());
    child.kill('SIGKILL');
  });
}

describe.skipIf(!existsSync(program))('a lesson that is killed', () => {
  it('has every entry that was acknowledged, in each of two rounds of writing', async () => {
    const acknowledged: string[] = [];
    for (let round = 0; round < 2; round++) {
      const { child, talk } = await startProgram();
      let stopped = false;
      const groups = Array.from({ length: GROUPS }, async (_, index) => {
        const station = `${'ABC'[index % 3]}${index < 3 ? '' : ` ${Math.floor(index / 3) + 1}`}`;
        const { cookie } = await talk.join(`team ${index}`, station);
        for (let time = 0; time < 5 && !stopped; time++) {
          const text = `3.${round}${time}${String(index).padStart(2, '0')}`;
          const answer = await talk.enter(cookie, { [RESULT]: text });
          if (answer.status === 303) acknowledged.push(`team ${index} ${text}`);
        }
      });
      // Requests that the kill cuts off are what it is about: they were not acknowledged.
      const ended = Promise.allSettled(groups);
      const before = acknowledged.length;
      while (acknowledged.length < before + 20 + 15 * round)
        await new Promise((resolve) => setTimeout(resolve, 1));
      await kill(child);
      stopped = true;
      await ended;
    }
    // What is on the disk, as SQLite itself finds it after the kill: no program of ours is in between.
    const database = new Database(join(folder, 'lesson.db'));
    const rows = database
      .prepare('SELECT name, numbers FROM entries JOIN groups ON groups.id = group_id ORDER BY entries.id')
      .all();
    database.close();
    const kept = rowsForm
      .parse(rows)
      .flatMap(({ name, numbers }) => numbers.map(({ written }) => `${name} ${written}`));
    expect(acknowledged.length).toBeGreaterThanOrEqual(55);
    expect(acknowledged.filter((entry) => !kept.includes(entry))).toEqual([]);
    expect(new Set(kept).size).toBe(kept.length);
  }, 180_000);
});
