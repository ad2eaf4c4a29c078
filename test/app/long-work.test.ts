import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createRoom } from '../../app/compute/room.ts';
import { bestChoiceTask } from '../../app/compute/tasks/best-choice.ts';
import { classListTask } from '../../app/compute/tasks/class-list.ts';
import { kitsTask } from '../../app/compute/tasks/kits.ts';
import { markTask } from '../../app/compute/tasks/mark.ts';
import { stationsTask } from '../../app/compute/tasks/stations.ts';
import { variationTask } from '../../app/compute/tasks/variation.ts';
import { editLabText } from '../../src/edit/index.ts';
import { change, SLOPE_LAB, valueFrom } from '../lab/slope-lab.ts';

/** The trolley on a slope of 6° without air: a = g·sin(alpha) − F_r/m, exactly. */
const SLOPE = `${change(SLOPE_LAB, ['value: 4e-3 kg/m, u: 1e-3 kg/m', 'value: 1e-30 kg/m'])}
stations: { A: { alpha: 4 degree }, B: { alpha: 8 degree } }
`;
const source = { text: SLOPE, files: [], settings: [], without: [] };
const G_SLOPE = 9.81 * Math.sin((6 * Math.PI) / 180);
const seen: string[] = [];
const report = { progress: (_: number, __: number, what: string) => void seen.push(what) };

describe('one quantity over a range', () => {
  const question = { source, quantity: 'm', from: '100 g', to: '2 kg', second: null, measure: 'gap(a)' };

  it('says in words from which mass on rolling takes less than 2 %: F_r/(0.02·g·sin(alpha)) = 488 g', async () => {
    const exact = 0.01 / (0.02 * G_SLOPE);
    const asked = { ...question, until: { sense: '<', limit: '2 %' } } as const;
    const { threshold } = valueFrom(await variationTask.run(createRoom(), asked, report));
    const [, said = ''] =
      /^gap\(a\) < 2 % is met for m above ([\d.]+) g\.$/.exec(threshold?.says[0] ?? '') ?? [];
    expect(Number(said)).toBeCloseTo(1000 * exact, 1);
    expect(seen).toContain('places');
  });

  it('refuses a limit in another unit, and a range that falls, in the words of the command line', async () => {
    const wrong = { ...question, until: { sense: '<', limit: '2 kg' } } as const;
    const limit = await variationTask.run(createRoom(), wrong, report);
    expect(limit.ok ? '' : limit.problems[0]?.message).toMatch(/"2 kg" cannot be held against gap\(a\)/);
    const falling = { ...question, from: '2 kg', to: '1 kg', until: null };
    const range = await variationTask.run(createRoom(), falling, report);
    expect(range.ok ? '' : range.problems[0]?.message).toMatch(/range of m must rise/);
  });
});

describe('two quantities over ranges', () => {
  const second = { quantity: 'alpha', from: '4 degree', to: '8 degree' };
  const question = { source, quantity: 'm', from: '100 g', to: '2 kg', second, measure: 'gap(a)' };

  it('are drawn as a map, and at each value of the second the limit is met from F_r/(0.02·g·sin(alpha)) on', async () => {
    const asked = { ...question, until: { sense: '<', limit: '2 %' } } as const;
    const { figure, threshold } = valueFrom(await variationTask.run(createRoom(), asked, report));
    expect(figure.title).toContain('gap(a)');
    expect(threshold?.says).toHaveLength(5);
    threshold?.says.forEach((sentence, index) => {
      const alpha = ((4 + index) * Math.PI) / 180;
      const [, said = ''] = /is met for m above ([\d.]+) g\.$/.exec(sentence) ?? [];
      expect(Number(said) / (1000 * (0.01 / (0.02 * 9.81 * Math.sin(alpha))))).toBeCloseTo(1, 3);
    });
  });

  it('are refused where both are one quantity', async () => {
    const same = { ...question, second: { ...second, quantity: 'm', from: '1 kg', to: '2 kg' }, until: null };
    const found = await variationTask.run(createRoom(), same, report);
    expect(found.ok ? '' : found.problems[0]?.message).toContain('Both ranges are of one quantity');
  });
});

describe('the best choice under limits', () => {
  const find = (vary: readonly (readonly [string, string])[], within: readonly string[]) =>
    bestChoiceTask.run(createRoom(), { source, sense: 'least', measure: 'gap(a)', vary, within }, report);

  it('goes through every combination of lists and says that this is exhaustive', async () => {
    const vary = [
      ['m', '250 g, 500 g, 1 kg'],
      ['alpha', '4 degree, 8 degree'],
    ] as const;
    const { says, how, nextBest, limits } = valueFrom(await find(vary, ['m < 700 g']));
    // The heaviest that is allowed, on the steepest slope: F_r/(m·g·sin(alpha)) = 1.465 %.
    expect(says).toBe('The least gap(a) is 1.465 %, with m = 500 g, alpha = 8 degree.');
    expect(how).toBe(
      'The search is exhaustive: all 6 choices were gone through, and 4 of them kept the limits.',
    );
    expect(nextBest).toHaveLength(3);
    expect(limits).toEqual(['m < 700 g: met with 200 g to spare']);
    expect(seen).toContain('choices');
  });

  it('finds the end of a range where the limit stops it, to four digits', async () => {
    const { says, limits, how } = valueFrom(await find([['m', '100 g..2 kg']], ['w < 10 N']));
    // m·g = 10 N at 1.0194 kg.
    expect(says).toMatch(/with m = 1019 g\.$/);
    expect(limits).toEqual(['w < 10 N: met just so; it is what limits']);
    expect(how).toContain('a grid of 9 places');
  });

  it('names every fault of what is asked, and limits that no choice keeps', async () => {
    const wrong = await find([['m', '2 kg..1 kg']], ['gap(b) < 2 %']);
    expect(wrong.ok ? [] : wrong.problems.map(({ message }) => message)).toEqual([
      'The range of m must rise; "2 kg..1 kg" does not.',
      '"b" is not a result of this lab.',
    ]);
    const none = await find([['m', '250 g, 500 g']], ['m < 100 g']);
    expect(none.ok ? '' : none.problems[0]?.message).toBe(
      'None of the 2 choices that were looked at meets m < 100 g.',
    );
  });
});

it('the lab as given is judged beside its kits, with its gap −F_r/(m·g·sin(alpha))', async () => {
  const { kits } = valueFrom(await kitsTask.run(createRoom(), { source }, report));
  expect(kits[0]?.name).toBe('as given');
  const gap = Number((kits[0]?.results[0]?.gap ?? '').replace('−', '-').replace(' %', ''));
  expect(gap).toBeCloseTo((-100 * (0.01 / 0.25)) / G_SLOPE, 1);
});

it('each station is expected to find g·sin(alpha) less rolling, and is given out again for more groups', async () => {
  const { stations } = valueFrom(await stationsTask.run(createRoom(), { source, groups: 3 }, report));
  expect(stations.map(({ name }) => name)).toEqual(['A', 'B', 'A 2']);
  const [low, high] = (stations[1]?.results[0]?.band ?? '').split(' … ').map(Number);
  const exact = 9.81 * Math.sin((8 * Math.PI) / 180) - 0.01 / 0.25;
  expect(low).toBeLessThan(exact);
  expect(high).toBeGreaterThan(exact);
});

describe('a class list, marked', () => {
  const bytes = new TextEncoder().encode(
    'group;station;a;u(a)\nred;A;0,645;\n"=1+1";B;1,32e-6;\nblue;Z;1;\ngreen;B;1,33;0,02\n',
  );
  const file = { path: 'class.csv', digest: 'chosen 1', from: { bytes } };
  const ask = (language: 'en' | 'de') =>
    classListTask.run(createRoom(), { source, groups: null, file, name: 'class.csv', language }, report);

  it('tells each line what it looks like, names what cannot be read, and keeps formulas as text', async () => {
    const { lines, unread, csv, page } = valueFrom(await ask('en'));
    expect(lines.map(({ group, kind }) => [group, kind])).toEqual([
      ['red', 'correct'],
      ['=1+1', 'slip'],
      ['blue', 'unread'],
      ['green', 'correct'],
    ]);
    expect(unread).toBe(1);
    expect(lines[2]?.says).toContain('"Z" is not a station of this lab.');
    expect(csv).toContain("'=1+1,B");
    expect(page).toMatch(/^<!doctype html>/);
    expect(seen).toContain('rehearsals of all stations');
  });

  it('is told in German where it is asked to be', async () => {
    const { lines, csv } = valueFrom(await ask('de'));
    expect(lines[0]?.looksLike).toBe('richtig');
    expect(csv).toContain('was zu sagen ist');
  });
});

describe('a report, marked', () => {
  const mark = (value: string, station = '') =>
    markTask.run(createRoom(), { source, station, groups: null, reported: [{ result: 'a', value }] }, report);

  it('what the lab gives is correct, and lies within the band', async () => {
    const marked = valueFrom(await mark((G_SLOPE - 0.04).toFixed(3)));
    expect(marked.causes[0]).toMatchObject({ kind: 'correct' });
    expect(marked.bands[0]?.isWithin).toBe(true);
    expect(marked.causes[0]?.helps).toMatch(/^Your a is as expected/);
  });

  it('the same number from the steeper station is outside, and shares add up to no more than 1', async () => {
    const marked = valueFrom(await mark((G_SLOPE - 0.04).toFixed(3), 'B'));
    expect(marked.bands[0]?.isWithin).toBe(false);
    expect(marked.causes[0]?.kind).not.toBe('correct');
    expect(marked.causes.reduce((sum, { share }) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9);
  });

  it('with the group’s readings says what they give, and refuses those of another experiment', async () => {
    const withData = async (path: string) =>
      markTask.run(
        createRoom(),
        {
          source: { ...source, text: readFileSync('labs/tow-chain/lab.yaml', 'utf8') },
          station: '',
          groups: null,
          reported: [{ result: 'k2', value: '2.2', u: '0.05' }],
          data: {
            name: 'ours.csv',
            file: { path, digest: path, from: { bytes: new Uint8Array(readFileSync(path)) } },
          },
        },
        report,
      );
    const { fromData, causes } = valueFrom(await withData('labs/tow-chain/trials/chain-120-c.csv'));
    expect(fromData).toMatch(/^The readings, reduced as they should be, give k2 = 2\.\d+ 1\/s²\.$/);
    expect(causes[0]?.kind).toBe('correct');
    const other = await withData('labs/falling-chain/trials/drop-3.txt');
    expect(other.ok ? '' : other.problems[0]?.tryThis).toContain('Is it the file of another experiment?');
    expect(other.ok ? '' : other.problems[0]?.place.file).toBe('ours.csv');
  });

  it('what is no number, or of another unit, is told', async () => {
    const word = await mark('fast');
    expect(word.ok ? '' : word.problems[0]?.message).toMatch(/"fast" is not a number; the reported a/);
    const unit = await mark('1 kg');
    expect(unit.ok ? '' : unit.problems[0]?.message).toMatch(/"1 kg" is in kg; a is given in m\/s/);
  });
});

it('a station whose name is taken is refused, and keeps its values; the first one needs no list', () => {
  const add = (text: string, key: string) =>
    editLabText(text, [{ kind: 'insert', at: ['stations'], key, value: {} }]);
  expect(add(SLOPE, 'A').ok).toBe(false);
  expect(valueFrom(add(SLOPE, 'C'))).toContain('A: { alpha: 4 degree }');
  expect(valueFrom(add('benchwright: 1\ntitle: t\n', 'A'))).toMatch(/stations:\s+A:/);
});
