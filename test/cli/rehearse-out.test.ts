import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { csvColumnsOf, writeReadingsCsv } from '../../src/cli/files/readings-csv.ts';
import { copyLab, makeFolder, run } from './run-in-memory.ts';

const folder = await makeFolder();
const length = [1, 0, 0, 0, 0, 0, 0];
const force = [1, 1, -2, 0, 0, 0, 0];

/** A copy of a lab whose trials are the rehearsed files, as their readme tells to name them. */
async function labOfRehearsed(name: string, out: string): Promise<string> {
  const lab = await copyLab(name, folder, `${name}-of-${out}`);
  const readme = await readFile(join(folder, out, 'README.md'), 'utf8');
  const trials = /```yaml\n(trials:\n[^`]*)```/.exec(readme)?.[1] ?? '';
  const text = await readFile(join(lab, 'lab.yaml'), 'utf8');
  const without = text.replace(/^trials:\n(?: {2}.*\n)*/m, '');
  await writeFile(join(lab, 'lab.yaml'), `${without}\n${trials}`);
  for (const file of await readdir(join(folder, out))) {
    await writeFile(join(lab, file), await readFile(join(folder, out, file)));
  }
  return lab;
}

describe('rehearsed readings', () => {
  it.each(['tow-chain', 'falling-chain', 'long-swing'])(
    'of %s are read back by the lab like real ones',
    async (name) => {
      const out = `out-${name}`;
      const rehearsed = await run(['rehearse', name, '--repeats', '1', '--out', out], { folder });
      expect([rehearsed.code, rehearsed.err]).toEqual([0, '']);
      const lab = await labOfRehearsed(name, out);
      const reduced = await run(['reduce', lab, '--json'], { folder });
      expect(reduced.code, reduced.err).toBe(0);
      const mean = JSON.parse((await run(['rehearse', name, '--repeats', '1', '--json'], { folder })).out);
      const measured = JSON.parse(reduced.out);
      expect(measured.results).toHaveLength(mean.results.length);
      for (const [index, result] of measured.results.entries()) {
        // The mean over the first rehearsal's runs, once in memory and once through fifteen digits in a file. A reading
        // that stands exactly at a level may be counted to its other side after that, hence not more digits.
        expect(result.si / mean.results[index].mean_si).toBeCloseTo(1, 5);
      }
    },
  );

  it('say in the folder and in every file that nobody measured them', async () => {
    const names = await readdir(join(folder, 'out-tow-chain'));
    expect(names).toContain('README.md');
    expect(names).toHaveLength(10);
    for (const name of names) {
      const [first] = (await readFile(join(folder, 'out-tow-chain', name), 'utf8')).split('\n');
      expect(first).toMatch(/computed[,;] not measured/);
    }
  });

  it('replace an earlier set whole, without a trace of it', async () => {
    const { code } = await run(
      ['rehearse', 'tow-chain', '--repeats', '1', '--set', 'm_t=0.3kg', '--out', 'out-tow-chain'],
      { folder },
    );
    expect(code).toBe(0);
    const names = await readdir(join(folder, 'out-tow-chain'));
    expect(names).toHaveLength(10);
    expect(names.filter((name) => name.endsWith('.csv')).every((name) => name.includes('m_t=300g'))).toBe(
      true,
    );
    expect((await readdir(folder)).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('never take the place of a file that somebody else put there or changed', async () => {
    const path = join(folder, 'out-falling-chain');
    const [first = ''] = (await readdir(path)).filter((name) => name.endsWith('.csv'));
    const args = ['rehearse', 'falling-chain', '--repeats', '1', '--out', 'out-falling-chain'];
    await writeFile(join(path, 'mine.txt'), 'mine');
    const foreign = await run(args, { folder });
    expect([foreign.code, foreign.err]).toEqual([
      2,
      expect.stringContaining('holds "mine.txt", which no rehearsal wrote'),
    ]);
    await writeFile(join(path, first), 'edited');
    expect(await run(args, { folder })).toMatchObject({ code: 2 });
    expect(await readFile(join(path, first), 'utf8')).toBe('edited');
    expect(await readFile(join(path, 'mine.txt'), 'utf8')).toBe('mine');
  });
});

describe('a file of readings', () => {
  it('has units in its headings, blanks where one instrument has fewer readings, and quotes where needed', () => {
    const columns = csvColumnsOf([
      {
        instrument: 'gate, left',
        columns: [{ name: 'place', dimension: length, values: Float64Array.of(0.1, 0.2), u: 0 }],
        notes: [],
      },
      {
        instrument: 'cell',
        columns: [{ name: 'value', dimension: force, values: Float64Array.of(1e-7), u: 0 }],
        notes: [],
      },
    ]);
    expect(writeReadingsCsv(columns, 'made up')).toBe(
      '# made up\r\n"gate, left place (m)",cell value (N)\r\n0.1,1e-7\r\n0.2,\r\n',
    );
  });
});
