import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type * as z from 'zod';
import * as forms from './json-forms.ts';
import { makeFolder, run } from './run-in-memory.ts';

const folder = await makeFolder();

async function documentOf<Form extends z.ZodType>(
  form: Form,
  args: readonly string[],
  code = 0,
): Promise<z.infer<Form>> {
  const ran = await run([...args, '--json'], { folder });
  expect(ran.code, ran.err).toBe(code);
  return form.parse(JSON.parse(ran.out));
}

describe('adapt', () => {
  it('judges every kit, with its gap by effect', async () => {
    const { equipment } = await documentOf(forms.adaptForm, ['adapt', 'long-swing', '--rehearsals', '6']);
    expect(equipment?.map(({ kits }) => kits.join('+'))).toEqual(['', 'steel ball', 'hollow ball']);
    for (const { results } of equipment ?? []) {
      const [ratio] = results;
      const shares = Object.values(ratio?.effects ?? {}).reduce<number>(
        (sum, share) => sum + (share ?? 0),
        0,
      );
      expect(shares).toBeCloseTo((ratio?.full ?? 0) - (ratio?.ideal ?? 0), 6);
    }
  });

  it('maps, solves and chooses', async () => {
    const vary = ['--vary', 'l=0.4m..0.8m'];
    const { map } = await documentOf(forms.adaptForm, [
      'adapt',
      'long-swing',
      ...vary,
      '--measure',
      'gap(ratio)',
      '--measure',
      'speed',
      '--places',
      '3',
    ]);
    expect(map?.varied[0]?.values).toEqual([0.4, expect.closeTo(0.6, 12), 0.8]);
    // Nothing is faster at the lowest point than √(2·g·l·(1 − cos 60°)).
    const speeds = map?.measures[1]?.values ?? [];
    [0.4, 0.6, 0.8].forEach((l, index) => {
      expect(speeds[index]).toBeLessThan(Math.sqrt(9.82 * l));
      expect(speeds[index]).toBeGreaterThan(0.97 * Math.sqrt(9.82 * l));
    });
    const { thresholds } = await documentOf(forms.adaptForm, [
      'adapt',
      'long-swing',
      ...vary,
      '--until',
      'speed < 2.5 m/s',
    ]);
    const end = thresholds?.[0]?.met[0];
    expect(end?.ceases).toBe(true);
    expect(end?.to).toBeGreaterThan(2.5 ** 2 / 9.82);
    const { optimum } = await documentOf(forms.adaptForm, [
      'adapt',
      'long-swing',
      ...vary,
      '--least',
      'share(ratio, size of the ball)',
      '--within',
      'speed < 2.5 m/s',
    ]);
    // The longest cord that keeps the limit shows least of the ball: it is where the threshold was found.
    expect(optimum?.settings.l?.value).toBeCloseTo(end?.to ?? 0, 5);
  });

  it('draws maps and kits, and never over somebody’s file', async () => {
    const args = ['adapt', 'long-swing', '--vary', 'l=0.4m..0.8m', '--measure', 'speed', '--places', '3'];
    const drawn = await run([...args, '--figure', 'map.svg'], { folder });
    expect(drawn.code, drawn.err).toBe(0);
    expect(await readFile(join(folder, 'map.svg'), 'utf8')).toMatch(/^<svg /);
    const again = await run([...args, '--figure', 'map.svg'], { folder });
    expect(again.code).toBe(2);
    expect(again.err).toContain('"map.svg" could not be written: it is there already.');
  });

  it.each([
    [['--until', 'speed < 2 m/s'], '--until needs something to choose: --vary L=0.8m..2m.'],
    [['--kit', 'stel ball'], '"stel ball" is not a kit of this lab. Did you mean "steel ball"?'],
    [
      ['--kit', 'steel ball', '--kit', 'hollow ball'],
      'does not say that the kits "steel ball" and "hollow ball" may be combined',
    ],
    [['--vary', 'l=0.4m..0.8m', '--show', 'wind'], '"wind" is not an effect of this lab.'],
    [
      ['--vary', 'l=0.4m..0.8m', '--best', 'speed', '--least', 'time'],
      'different questions; ask one at a time',
    ],
  ])('ends with 2 and a sentence: %j', async (args, sentence) => {
    const ran = await run(['adapt', 'long-swing', ...args], { folder });
    expect(ran.code).toBe(2);
    expect(ran.err.replace(/\s+/g, ' ')).toContain(sentence);
  });
});

describe('stations', () => {
  it('gives each its band, the class its number, and the groups that takes', async () => {
    const { stations, pooled, needed } = await documentOf(forms.stationsForm, [
      'stations',
      'draped-chain',
      '--groups',
      '4',
      '--until',
      'u(g_class) < 5 m/s^2',
      '--rehearsals',
      '8',
    ]);
    expect(stations.map(({ name }) => name)).toEqual(['A', 'B', 'C', 'A 2']);
    expect(needed?.groups).toBe(3);
    // Two groups make a line without a residual; one makes none.
    expect(pooled.map(({ groups }) => groups)).toEqual([1, 2, 3, 4]);
  });

  it('tells what is no pooled result', async () => {
    const ran = await run(['stations', 'tow-chain', '--until', 'u(g) < 1 m/s^2'], { folder });
    expect(ran.code).toBe(2);
    expect(ran.err.replace(/\s+/g, ' ')).toContain('"g" is not a pooled result of this lab.');
  });
});

describe('mark', () => {
  it('ranks what would give the number, the station’s own values taken', async () => {
    const { report } = await documentOf(forms.markForm, [
      'mark',
      'long-swing',
      '--reported',
      'ratio=0.515',
      '--station',
      'B',
      '--rehearsals',
      '16',
    ]);
    // Half of 1.030 for 40 degrees, less what the air takes.
    expect(report?.causes[0]?.name).toBe('half-period for period');
    expect(report?.causes[0]?.says).toContain('A period ends when the swing passes again');
  });

  it('tells slips in German where it is asked to, in the list that it writes too', async () => {
    await writeFile(join(folder, 'klasse.csv'), 'Gruppe;Station;ratio\nrot;B;0,515\n');
    const { list, written } = await documentOf(forms.markForm, [
      ...['mark', 'long-swing', '--list', 'klasse.csv', '--out', 'markiert'],
      ...['--rehearsals', '12', '--language', 'de'],
    ]);
    expect(list?.[0]?.report?.causes[0]?.name).toBe('halbe statt ganze Periode');
    const csv = await readFile(join(written ?? '', 'marked.csv'), 'utf8');
    expect(csv).toContain('ratio ist das, was bei diesem Versehen herauskommt: die Zeit von einem Durchgang');
    expect(await readFile(join(written ?? '', 'marked.html'), 'utf8')).toContain('<html lang="de">');
  });

  it('marks a list, and what cannot be read in it makes the exit code 1', async () => {
    await writeFile(
      join(folder, 'class.csv'),
      'group,station,ratio\na,A,1.007\n=1+1,B,0.515\nc,Z,1\nd,C,x\n',
    );
    const { list, written, problems } = await documentOf(
      forms.markForm,
      ['mark', 'long-swing', '--list', 'class.csv', '--out', 'marked', '--rehearsals', '12'],
      1,
    );
    expect(list?.map(({ report }) => report?.causes[0]?.kind ?? null)).toEqual([
      'correct',
      'slip',
      null,
      null,
    ]);
    expect(problems?.map(({ code }) => code)).toEqual(['unknown-station', 'not-a-number']);
    const csv = await readFile(join(written ?? '', 'marked.csv'), 'utf8');
    expect(csv).toContain("'=1+1");
    expect(await readFile(join(written ?? '', 'marked.html'), 'utf8')).toMatch(/^<!doctype html>/);
    const again = await run(['mark', 'long-swing', '--list', 'class.csv', '--out', 'marked'], { folder });
    expect(again.code).toBe(2);
  });

  it.each([
    [['--reported', 'ratio'], 'A reported number is a result, "=", and its value.'],
    [['--reported', 'ratio=fast'], '"fast" is not a number; the reported ratio must be one.'],
    [['--reported', 'ratio=1 m'], '"1 m" is in m; ratio is given in'],
    [['--reported', 'ration=1'], '"ration" is not a result of this lab. Did you mean "ratio"?'],
    [['--reported', 'ratio=1', '--station', 'Q'], '"Q" is not a station of this lab.'],
    [['--reported', 'ratio=1', '--u', 'T=1'], '"T" has an uncertainty and no --reported value.'],
    [[], 'mark takes either --reported numbers or a --list of them.'],
  ])('ends with a sentence: %j', async (args, sentence) => {
    const ran = await run(['mark', 'long-swing', ...args], { folder });
    expect(ran.code).not.toBe(0);
    expect(ran.err.replace(/\s+/g, ' ')).toContain(sentence);
  });
});
