import { beforeAll, describe, expect, it } from 'vitest';
import { type Extremes, findHazards } from '../../../src/adapt/index.ts';
import { plainLine, walkBlocks } from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import type { Gathered } from '../../../src/publish/gather/index.ts';
import published from '../../published/pendulum-period.json' with { type: 'json' };
import { gatherLab, inEnglish, take } from './gathered-lab.ts';

let draped: Gathered;
let swing: Gathered;
let falling: Gathered;

beforeAll(async () => {
  const options = { withTrials: false, draws: 20, rehearsals: 3 };
  draped = await gatherLab('draped-chain', options);
  swing = await gatherLab('long-swing', options);
  falling = await gatherLab('falling-chain', options);
}, 120_000);

const request = { settings: inEnglish, sources: [], madeBy: 'Benchwright' };

describe('numbers of documents against closed forms', () => {
  it('a chain of 1.55 m on an ideal wheel gains 3.56 m/s per metre: sqrt(2 g/L)', () => {
    expect(draped.own.results[0]?.theory?.value).toBeCloseTo(Math.sqrt((2 * 9.8071) / 1.55), 4);
  });

  it('taking the length of one side for that of both makes theory too large by sqrt(2)', () => {
    const slip = draped.slips.find(({ slip: { name } }) => name === 'length of one side');
    const { rightTheory, slippedTheory } = slip?.results[0] ?? {};
    expect((slippedTheory ?? 0) / (rightTheory ?? 1)).toBeCloseTo(Math.SQRT2, 9);
  });

  it('a swing of 60 degrees takes 1.07318 times that of small swings (Abramowitz and Stegun, chapter 17)', () => {
    const row = published.table.find(({ amplitude_deg }) => amplitude_deg === 60);
    expect(swing.own.results[0]?.theory?.value).toBeCloseTo(row?.ratio ?? 0, 9);
  });

  it('twice the amplitude taken for it gives the ratio of 120 degrees, from the same table', () => {
    const row = published.table.find(({ amplitude_deg }) => amplitude_deg === 120);
    const slip = swing.slips.find(({ slip: { name } }) => name === 'angle between the turning points');
    expect(slip?.results[0]?.slippedTheory).toBeCloseTo(row?.ratio ?? 0, 9);
  });

  it('nothing of a chain of 0.8 m that falls by gravity is faster than free fall through the longest length', () => {
    expect(falling.extremes.speed).toBeLessThanOrEqual(Math.sqrt(2 * 9.82 * 0.8));
    expect(falling.extremes.speed).toBeGreaterThan(Math.sqrt(2 * 9.78 * 0.8));
    expect(falling.extremes.movingEnergy).toBeLessThanOrEqual(0.1184 * 0.8 * 9.82 * 0.8);
  });

  it('a slip of the hand changes the run, one of reckoning what it is reduced with', () => {
    expect(falling.slips.map(({ kind }) => kind)).toEqual(['handling']);
    expect(swing.slips.every(({ kind }) => kind === 'reckoning')).toBe(true);
  });
});

describe('cautions', () => {
  const none: Extremes = {
    mass: 0,
    length: 0,
    speed: 0,
    movingEnergy: 0,
    elasticEnergy: 0,
    electricEnergy: 0,
    voltage: 0,
    current: 0,
    temperature: 293,
  };

  it('are asked for above their thresholds, and only there', () => {
    expect(findHazards(none)).toEqual([]);
    const all = findHazards({
      ...none,
      mass: 0.6,
      speed: 1.1,
      movingEnergy: 0.11,
      elasticEnergy: 0.11,
      electricEnergy: 0.11,
      voltage: 26,
      current: 2.1,
      temperature: 273.15 + 46,
    });
    expect(all.map(({ kind }) => kind)).toEqual([
      'moving',
      'fast',
      'heavy',
      'elastic',
      'electric',
      'voltage',
      'current',
      'hot',
    ]);
  });

  it('stand in the set-up of every handout, the guide and the sheets, and end with who decides', () => {
    const trees = take(draftDocuments(falling, request));
    for (const tree of trees.filter(({ kind }) => kind !== 'answer key')) {
      const cautions = [...walkBlocks(tree.blocks)].flatMap((block) =>
        block.kind === 'caution' ? [block] : [],
      );
      // A data sheet has a page for each of three stations.
      expect(cautions).toHaveLength(tree.kind === 'data sheet' ? 3 : 1);
      const [first] = cautions;
      expect(plainLine(first?.closing ?? [], inEnglish)).toMatch(/responsible, qualified staff decide/u);
      // Computed ones first, each with its number, for staff with its threshold and source; then the author's own.
      const lines = (first?.items ?? []).map((line) => plainLine(line, inEnglish));
      const isForStaff = ['teacher guide', 'equipment list', 'set-up sheet'].includes(tree.kind);
      expect(lines[0]).toMatch(/carries up to 0\.75 J at up to 4(\.0)? m\/s/u);
      expect(lines[0]?.includes('(above 0.08 J; EN 71-1:2014, 4.17)')).toBe(isForStaff);
      expect(lines[1]?.includes('(above 1 m/s; common practice, no source)')).toBe(isForStaff);
      expect(lines.some((line) => line.startsWith('Links that miss the pan jump.'))).toBe(true);
      expect(lines.some((line) => /qualified staff decide/u.test(line))).toBe(false);
    }
  });

  it('stand right under the heading of the set-up', () => {
    const [handout] = take(draftDocuments(falling, { ...request, kinds: ['handout'] }));
    const at = handout?.blocks.findIndex((block) => block.kind === 'heading' && block.id === 'set-up') ?? -1;
    expect(handout?.blocks[at + 1]?.kind).toBe('caution');
  });
});

describe('provenance and settings', () => {
  it('changes with a file and with a setting, and not with the order of files', () => {
    const digest = (sources: readonly { file: string; sha256: string }[], language = 'en') =>
      take(
        draftDocuments(falling, {
          ...request,
          kinds: ['answer key'],
          sources,
          settings: { ...inEnglish, language },
        }),
      )[0]?.provenance.digest;
    const a = { file: 'lab.yaml', sha256: 'aa' };
    const b = { file: 'trials/1.csv', sha256: 'bb' };
    expect(digest([a, b])).toBe(digest([b, a]));
    expect(digest([a, b])).not.toBe(digest([a, { ...b, sha256: 'bc' }]));
    expect(digest([a, b])).not.toBe(digest([a, b], 'de'));
  });

  it('tells a language that there is none of', () => {
    const refused = draftDocuments(falling, { ...request, settings: { ...inEnglish, language: 'xx' } });
    expect(refused).toMatchObject({ ok: false, problems: [{ code: 'unknown-language' }] });
  });
});
