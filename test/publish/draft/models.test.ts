import { beforeAll, describe, expect, it } from 'vitest';
import { type LabDocumentTree, plainLine, walkBlocks } from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { gatherLab, inEnglish, take } from './gathered-lab.ts';

let documents: readonly LabDocumentTree[];

beforeAll(async () => {
  const gathered = await gatherLab('slowing-glider', { withTrials: true, draws: 20, rehearsals: 3 });
  documents = take(draftDocuments(gathered, { settings: inEnglish, sources: [], madeBy: 'Benchwright' }));
}, 240_000);

const blocksOf = (kind: LabDocumentTree['kind']) => {
  const tree = documents.find((one) => one.kind === kind);
  return tree === undefined ? [] : [...walkBlocks(tree.blocks)];
};

describe('a lab that puts models side by side', () => {
  it('shows each with its weight in the guide, and what the weights rest on', () => {
    const blocks = blocksOf('teacher guide');
    const table = blocks.flatMap((block) =>
      block.kind === 'table' && plainLine(block.caption, inEnglish).startsWith('Models,') ? [block] : [],
    )[0];
    const cells = table?.rows.map((row) => row.map((cell) => plainLine(cell, inEnglish))) ?? [];
    expect(cells.map(([model]) => model)).toEqual([
      'dry: the same at any speed',
      'in step: in step with the speed',
      'square: with the square of the speed',
      'dry and in step',
      'dry and square',
      'in step and square',
      'all three',
    ]);
    expect(cells[0]?.[1]).toMatch(/^\d×10⁻[⁰¹²³⁴⁵⁶⁷⁸⁹]+$/u);
    expect(Number(cells[6]?.[1])).toBeGreaterThan(0.9);
    expect(cells[1]?.[2]).toMatch(/^b = \(25\.\d+ ± 0\.\d+\) mN·s\/m$/u);
    const lines = blocks.flatMap((block) =>
      block.kind === 'paragraph' ? [plainLine(block.inlines, inEnglish)] : [],
    );
    expect(lines.some((line) => line.startsWith('The runs make the model “all three” '))).toBe(true);
    // Of a theory that says nought nothing is told in per cent.
    expect(lines.filter((line) => /\d{4} ?% of the ideal|∞/u.test(line))).toEqual([]);
  });

  it('asks of a theory that says nought by how much, not by how many per cent', () => {
    const questions = blocksOf('handout').flatMap((block) =>
      block.kind === 'question' ? [plainLine(block.inlines, inEnglish)] : [],
    );
    expect(questions.filter((line) => line.startsWith('Theory says nought.'))).toHaveLength(2);
  });
});
