import { describe, expect, it } from 'vitest';
import { createRoom } from '../../app/compute/room.ts';
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
  const question = { source, quantity: 'm', from: '100 g', to: '2 kg', measure: 'gap(a)' };

  it('says in words from which mass on rolling takes less than 2 %: F_r/(0.02·g·sin(alpha)) = 488 g', async () => {
    const exact = 0.01 / (0.02 * G_SLOPE);
    const asked = { ...question, until: { sense: '<', limit: '2 %' } } as const;
    const { threshold } = valueFrom(await variationTask.run(createRoom(), asked, report));
    const [, said = ''] =
      /^gap\(a\) < 2 % is met for m above ([\d.]+) g\.$/.exec(threshold?.says ?? '') ?? [];
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
