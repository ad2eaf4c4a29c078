import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Block,
  type Inline,
  type LabDocumentTree,
  plainLine,
  walkBlocks,
} from '../../../src/publish/document/index.ts';
import { linesOf } from '../../../src/publish/document/walk.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { gatherLab, inEnglish, take } from './gathered-lab.ts';

async function documentsOf(name: string): Promise<ReadonlyMap<string, LabDocumentTree>> {
  const gathered = await gatherLab(name, { withTrials: true, draws: 24, rehearsals: 3 });
  const trees = take(draftDocuments(gathered, { settings: inEnglish, sources: [], madeBy: 'Benchwright' }));
  return new Map(trees.map((tree) => [tree.level === null ? tree.kind : `${tree.kind} ${tree.level}`, tree]));
}

const say = (inlines: readonly Inline[]) => plainLine(inlines, inEnglish).replaceAll('\u00a0', ' ');
const blocksOf = (tree: LabDocumentTree | undefined): readonly Block[] => [...walkBlocks(tree?.blocks ?? [])];
const linesIn = (tree: LabDocumentTree | undefined): readonly string[] =>
  blocksOf(tree).flatMap((block) => linesOf(block).map(say));
const tableNamed = (tree: LabDocumentTree | undefined, caption: string) => {
  const found = blocksOf(tree).find(
    (block) => block.kind === 'table' && say(block.caption).startsWith(caption),
  );
  if (found?.kind !== 'table') throw new Error(`there is no table "${caption}"`);
  return found;
};

let mug: ReadonlyMap<string, LabDocumentTree>;
let lens: ReadonlyMap<string, LabDocumentTree>;

beforeAll(async () => {
  [mug, lens] = await Promise.all([documentsOf('cooling-mug'), documentsOf('thick-lens')]);
}, 120_000);

describe('documents of a lab of heat', () => {
  it('never take the C of a temperature for the heat capacity', () => {
    for (const tree of mug.values()) {
      for (const line of blocksOf(tree).flatMap(linesOf)) {
        const broken = line.some(
          (inline, index) =>
            inline.kind === 'formula' && /°\s?$/u.test(plainLine(line.slice(0, index), inEnglish)),
        );
        expect([say(line), broken]).toEqual([say(line), false]);
      }
    }
  });

  it('show one method of steps where the order of the states changes nothing', () => {
    const steps = tableNamed(mug.get('teacher guide'), 'Error of tau');
    expect(steps.head).toHaveLength(2);
  });

  it('leave exact quantities alone and ask for the others', () => {
    const { rows } = tableNamed(mug.get('handout algebra'), 'Quantities of the apparatus');
    const yours = new Map(rows.map((row) => [say(row[0] ?? []), say(row[3] ?? [])]));
    expect([yours.get('T_z'), yours.get('G'), yours.get('T_0')]).toEqual(['–', '', '']);
  });

  it('say how well a large number must be known to as many digits as are meant', () => {
    const { rows } = tableNamed(mug.get('set-up sheet'), 'To be set');
    const heat = rows.find((row) => say(row[0] ?? []) === 'L_w');
    expect(say(heat?.[3] ?? [])).toBe('20000 J/kg');
  });
});

describe('documents of a lab without time', () => {
  it('give a table for the readings of one run, a column for each scale', () => {
    const { head, rows, emptyRows } = tableNamed(lens.get('handout algebra'), 'Readings of one run');
    expect(head.map(say)).toEqual(['j', 'object rule in mm', 'screen rule in mm']);
    expect(rows.map((row) => say(row[0] ?? []))).toEqual(['1', '2', '3', '4', '5']);
    expect(emptyRows).toBe(0);
  });

  it('ask to change the law, for there is no motion', () => {
    const lines = linesIn(lens.get('handout calculus'));
    expect(lines).toContain('Put one of the effects into the law. What becomes of the result?');
    expect(lines.join('\n')).not.toContain('equation of motion');
  });

  it('say the value that would close the gap to the digits that tell it from the stated one', () => {
    const answer = linesIn(lens.get('answer key')).find((line) => line.includes('would have to be'));
    expect(answer).toMatch(/R would have to be 103\.\d\d mm/u);
  });
});
