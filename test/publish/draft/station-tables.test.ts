import { expect, it } from 'vitest';
import { plainLine, walkBlocks } from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { gatherLab, inEnglish, take } from './gathered-lab.ts';

it('where a station fixes what the plan varies, the guide tells what it finds alone and what all find together', async () => {
  const gathered = await gatherLab('heavy-spring', { withTrials: false, draws: 16, rehearsals: 4 });
  const request = {
    settings: inEnglish,
    sources: [],
    madeBy: 'Benchwright',
    kinds: ['teacher guide'],
  } as const;
  const [guide] = take(draftDocuments(gathered, request));
  const blocks = [...walkBlocks(guide?.blocks ?? [])];
  const line = (inlines: Parameters<typeof plainLine>[0]) =>
    plainLine(inlines, inEnglish).replaceAll('\u00a0', ' ');
  const table = blocks.find((block) => block.kind === 'table' && line(block.caption).startsWith('Stations'));
  if (table?.kind !== 'table') throw new Error('the stations have no table');
  expect(table.head.map(line)).toEqual(['Group', 'setting', 'T in s', '95 of 100 groups']);
  for (const row of table.rows) expect(line(row[3] ?? [])).toMatch(/^0\.\d+ … 0\.\d+$/u);
  const told = blocks.flatMap((block) => (block.kind === 'paragraph' ? [line(block.inlines)] : []));
  const together = told.filter((text) => text.startsWith('All 3 groups together find'));
  expect(together).toHaveLength(2);
  expect(together[0]).toMatch(
    /find s \(.*\) = \(5\.0\d+ ± 0\.0\d+\) s²\/kg .* Theory gives 5\.029 s²\/kg\.$/u,
  );
});

it('results that do not stand side by side on a page have tables of their own, which name them', async () => {
  const gathered = await gatherLab('slowing-glider', { withTrials: false, draws: 16, rehearsals: 4 });
  const request = {
    settings: inEnglish,
    sources: [],
    madeBy: 'Benchwright',
    kinds: ['teacher guide'],
  } as const;
  const [guide] = take(draftDocuments(gathered, request));
  const line = (inlines: Parameters<typeof plainLine>[0]) => plainLine(inlines, inEnglish);
  const tables = [...walkBlocks(guide?.blocks ?? [])].filter(
    (block) => block.kind === 'table' && line(block.caption).startsWith('Stations'),
  );
  expect(tables.map((table) => (table.kind === 'table' ? line(table.caption) : ''))).toEqual([
    expect.stringMatching(/: p, F_0, k_1$/),
    expect.stringMatching(/: k_2, l$/),
  ]);
  for (const table of tables) expect(table.kind === 'table' ? table.head.length : 99).toBeLessThanOrEqual(8);
});
