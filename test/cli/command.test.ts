import { mkdir, readdir, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { verbs } from '../../src/cli/verbs.ts';
import { copyLab, makeFolder, run } from './run-in-memory.ts';

const folder = await makeFolder();

describe('the command', () => {
  it('lists its verbs, and prints each verb with its options and one example', async () => {
    const { out, code } = await run(['--help']);
    expect(code).toBe(0);
    for (const { name } of verbs) expect(out).toContain(`  ${name} `);
    for (const { name, example } of verbs) {
      const help = await run([name, '--help']);
      expect(help.code).toBe(0);
      expect(help.out).toContain('--json');
      expect(help.out).toContain(`Example:\n  ${example}\n`);
    }
  });

  it('says its version', async () => {
    expect(await run(['--version'])).toEqual({ code: 0, out: '0.0.0-test\n', err: '' });
  });

  it.each([
    [['chek', 'tow-chain'], '"chek" is not a verb of benchwright. Did you mean "check"?'],
    [[], 'A verb is missing. The verbs are open, new, check, predict,'],
    [['predict', 'tow-chain', '--idael'], "Unknown option '--idael'."],
    [['predict', 'tow-chain', '--ideal', '--without', 'x'], '--ideal switches all effects off'],
    [['predict', 'tow-chain', '--without', 'roling resistance'], 'Did you mean "rolling resistance"?'],
    [
      ['predict', 'tow-chain', '--set', 'L'],
      'A setting is a symbol, "=", and a value with its unit. For example: --set L=1.4m',
    ],
    [['predict', 'tow-chain', '--set', 'L=1.4'], 'Is its unit missing? L is given in m.'],
    [['predict', 'tow-chain', '--set', 'm_c=90g'], 'm_c is computed from "lambda*L" and cannot be set'],
    [['rehearse', 'tow-chain', '--repeats', 'many'], '--repeats takes a whole number from 1 to 1000000.'],
    [['steps', 'tow-chain', '--step', '10ms,5mm'], '"5mm" is not a time above 0.'],
    [['infer', 'tow-chain', '--free', 'F_R'], '"F_R" is not a quantity of this lab. Did you mean "F_r"?'],
    [['check', 'no-such-lab'], 'There is no lab "no-such-lab"'],
    [['new', 'thing'], "Required option '--from <LAB>' not specified."],
  ])('ends with 2 and a sentence where it is not understood: %j', async (args, sentence) => {
    const ran = await run(args, { folder });
    expect(ran.err).toContain(sentence);
    expect([ran.code, ran.out]).toEqual([2, '']);
  });

  it('takes the current folder where no lab is named, and places without its path then', async () => {
    const lab = await copyLab('tow-chain', folder, 'here');
    expect((await run(['check'], { folder: lab })).code).toBe(0);
    await writeFile(join(lab, 'lab.yaml'), 'benchwright: 1\nquantities: {}\n');
    expect((await run(['check'], { folder: lab })).err).toContain(
      'lab.yaml:1:1  The lab file has no "title"',
    );
  });

  it('says that a folder without a lab file is no lab', async () => {
    await mkdir(join(folder, 'empty'));
    const { code, err } = await run(['check', 'empty'], { folder });
    expect([code, err]).toEqual([
      2,
      expect.stringContaining('"empty/" has no lab.yaml, so it is not a lab.'),
    ]);
  });

  it('does not follow a link out of the lab', async () => {
    const lab = await copyLab('tow-chain', folder, 'linked');
    await writeFile(join(folder, 'secret.csv'), 'edge time (s)\n1\n2\n3\n');
    await symlink(join(folder, 'secret.csv'), join(lab, 'trials', 'link.csv'));
    const text = `benchwright: 1
title: Links
quantities: { L: { value: 1 m } }
instruments: { gate: { kind: sampled, of: x, interval: 1 s } }
model: { start: { x: 0 m }, rates: { x: L/(1*tau) }, lasts: 1 s }
trials: [ { file: trials/link.csv, reads: { gate: edge } } ]
`
      .replace('L/(1*tau)', 'L*f')
      .replace('L: { value: 1 m }', 'L: { value: 1 m }, f: { value: 1 Hz }');
    await writeFile(join(lab, 'lab.yaml'), text);
    const { code, err } = await run(['check', 'linked'], { folder });
    expect(err).toContain('"trials/link.csv" leads out of the lab\'s folder.');
    expect(code).toBe(2);
  });

  it('ends with 130 and writes nothing where the user stops it', async () => {
    const before = await readdir(folder);
    const signal = { aborted: true };
    const ran = await run(['rehearse', 'tow-chain', '--repeats', '5', '--out', 'stopped'], {
      folder,
      signal,
    });
    expect(ran).toEqual({ code: 130, out: '', err: '' });
    expect(await readdir(folder)).toEqual(before);
    expect((await run(['reconcile', 'tow-chain'], { folder, signal })).code).toBe(130);
  });

  it('shows progress on a terminal only, on the stream of messages', async () => {
    const args = ['rehearse', 'tow-chain', '--repeats', '4'];
    expect((await run(args)).err).toBe('');
    const watched = await run(args, { terminal: { columns: 90 } });
    expect(watched.err).toContain('rehearsing');
    expect(watched.out).not.toContain('rehearsing ');
  });

  it('says an unexpected failure in one sentence, and shows the stack only to those who ask', async () => {
    // A signal that throws when the rehearsal first looks at it stands for any fault of the program's own.
    const faulty = () => {
      let looks = 0;
      return {
        get aborted(): boolean {
          looks += 1;
          if (looks === 1) throw new Error('a fault of ours');
          return false;
        },
      };
    };
    const args = ['rehearse', 'tow-chain', '--repeats', '1'];
    const quiet = await run(args, { signal: faulty() });
    expect([quiet.code, quiet.out]).toEqual([2, '']);
    expect(quiet.err).toMatch(
      /^Problem: {2}Something went wrong inside benchwright \(a fault of ours\).* please report it, .*\.\n$/,
    );
    const loud = await run(args, { signal: faulty(), variables: { BENCHWRIGHT_DEBUG: '1' } });
    expect(loud.err).toMatch(/Error: a fault of ours\n +at /);
  });
});

describe('printing', () => {
  it('takes a decimal comma', async () => {
    const { out } = await run(['predict', 'tow-chain', '--decimal-comma']);
    expect(out).toMatch(/theory +2,2664 +± 0,0021/);
  });

  it('is pure ASCII where the terminal knows nothing else', async () => {
    const { out } = await run(['reconcile', 'draped-chain', '--draws', '20'], { variables: { LC_ALL: 'C' } });
    expect(out).toMatch(/^[\x20-\x7e\n]*$/);
    expect(out).toMatch(/measured \(5 runs\) +3\.38\d\d +\+\/- 0\.00\d\d/);
  });

  it('keeps the ledger within the width of the terminal, wide or narrow', async () => {
    for (const columns of [80, 100, 120]) {
      const { out } = await run(['reconcile', 'draped-chain', '--draws', '20'], {
        terminal: { columns },
        variables: { NO_COLOR: '1' },
      });
      const ledger = out.split('\n').slice(
        0,
        out.split('\n').findIndex((line) => line.startsWith('Uncertainties')),
      );
      for (const line of ledger) expect(line.length, line).toBeLessThanOrEqual(columns);
    }
  });
});
