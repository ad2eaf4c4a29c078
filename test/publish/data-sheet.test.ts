import { beforeAll, describe, expect, it } from 'vitest';
import {
  type LabDocumentTree,
  type PrintSettings,
  plainLine,
  walkBlocks,
} from '../../src/publish/document/index.ts';
import { draftDocuments } from '../../src/publish/draft/index.ts';
import type { Gathered } from '../../src/publish/gather/index.ts';
import { writePdf } from '../../src/publish/pdf/index.ts';
import { gatherLab, inEnglish, take } from './draft/gathered-lab.ts';
import { has, runOn, textOfPdf } from './outside-tools.ts';

/** A lab with long cautions and fifteen runs a group. */
let gathered: Gathered;

beforeAll(async () => {
  gathered = await gatherLab('drawn-cart', { withTrials: false, draws: 8, rehearsals: 2 });
}, 180_000);

function sheetIn(settings: PrintSettings): LabDocumentTree {
  const sources = ['lab.yaml', 'references.bib', 'trials/cart-20.csv', 'trials/cart-30.csv'];
  const [sheet] = take(
    draftDocuments(gathered, {
      settings,
      sources: sources.map((file) => ({ file, sha256: 'ab'.repeat(32) })),
      madeBy: 'Benchwright 0.0.0-test',
      kinds: ['data sheet'],
    }),
  );
  if (sheet === undefined) throw new Error('there is no data sheet');
  return sheet;
}

const tablesOf = (sheet: LabDocumentTree) =>
  [...walkBlocks(sheet.blocks)].flatMap((block) => (block.kind === 'table' ? [block] : []));

describe('the sheet that a group fills in', () => {
  it.skipIf(!has('pdfinfo')).each([
    { ...inEnglish, paper: 'letter' },
    { ...inEnglish, paper: 'a4' },
    { ...inEnglish, language: 'de', decimalMark: ',', paper: 'a4' },
  ] as const)('is one page a station, on $paper paper in "$language"', (settings) => {
    const pdf = writePdf(sheetIn(settings));
    const pages = /Pages: +(\d+)/u.exec(runOn('pdfinfo', 'a.pdf', pdf, ['a.pdf']).out)?.[1];
    expect(Number(pages)).toBe(gathered.stations.length);
  });

  it.skipIf(!has('pdftotext'))('says at its foot what it was made from, once', () => {
    const text = textOfPdf(writePdf(sheetIn(inEnglish)));
    expect(text.match(/trials\/cart-20\.csv/gu)).toHaveLength(1);
    expect(text.match(/Benchwright 0\.0\.0-test/gu)?.length).toBe(gathered.stations.length + 1);
  });

  it('has a row for every run of the plan at its station, and no single value of what changes from run to run', () => {
    const sheet = sheetIn(inEnglish);
    const [own, runs] = tablesOf(sheet);
    const { settings, repeats } = gathered.pipeline.lab.plan;
    expect(runs?.rows).toHaveLength(settings.length * repeats);
    const line = (inlines: Parameters<typeof plainLine>[0] | undefined) =>
      plainLine(inlines ?? [], inEnglish);
    expect(line(runs?.head[0])).toContain('m_h');
    expect(own?.rows.map((row) => line(row[0]))).toEqual(['m_T']);
  });
});
