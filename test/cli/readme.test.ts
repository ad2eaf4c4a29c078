import { readFileSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeFolder, run } from './run-in-memory.ts';

const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
const folder = await makeFolder();

/** A command of the README, and what it is said to print; '[…]' stands for what was left out at the end. */
const sessions = [...readme.matchAll(/```console\n\$ benchwright (.*)\n([^`]*)```/g)].map(
  ([, command = '', output = '']) => ({
    args: (command.match(/"[^"]*"|\S+/g) ?? []).map((word) => word.replace(/^"|"$/g, '')),
    output: output.split('\n').slice(0, -1),
  }),
);

/** Makes the edit that the README tells to make, before the check that fails, and mends it after. */
async function editAsTold(check: number): Promise<void> {
  const file = join(folder, 'my-chain', 'lab.yaml');
  const text = await readFile(file, 'utf8');
  const [, was = '', is = ''] = /```diff\n-(.*)\n\+(.*)\n```/.exec(readme) ?? [];
  await writeFile(file, check === 1 ? text.replace(was, is) : text.replace('498.0 m', '498.0 g'));
}

describe('the README', () => {
  it('shows what its commands print, in their order', async () => {
    expect(sessions.length).toBeGreaterThan(7);
    let checks = 0;
    for (const { args, output } of sessions) {
      if (args[0] === 'check') await editAsTold(++checks);
      const { out, err } = await run(args, { folder });
      const printed = `${out}${err}`.split('\n').map((line) => line.trimEnd());
      const isCut = output.at(-1) === '[…]';
      expect(
        isCut ? [...printed.slice(0, output.length - 1), '[…]'] : printed.slice(0, -1),
        args.join(' '),
      ).toEqual(output);
    }
  });
});
