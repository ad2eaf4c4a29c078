import { describe, expect, it } from 'vitest';
import {
  type Block,
  forStudents,
  type Level,
  plainLine,
  walkBlocks,
  walkInlines,
} from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { mainLedger } from '../../../src/publish/gather/index.ts';
import { createTexts, imagesIn, pathInFolder, readBibliography } from '../../../src/publish/text/index.ts';
import { gatherText, inEnglish, take } from '../draft/gathered-lab.ts';
import { smallLab } from './small-lab.ts';

const gathered = gatherText(smallLab, { draws: 20, rehearsals: 4 });
const bibliography = take(
  await readBibliography(
    '@book{lamb, author={Lamb, Horace}, title={Dynamics}, year={1923}}',
    'references.bib',
  ),
);

/** A PNG of 3 by 2 pixels: signature and the first chunk, which is all that is looked at. */
const png = Uint8Array.of(
  ...[0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52],
  ...[0, 0, 0, 3, 0, 0, 0, 2, 8, 2, 0, 0, 0],
);

function withText(source: string, level: Level = 'algebra', kind: 'handout' | 'teacher guide' = 'handout') {
  const texts = createTexts({
    handout: kind === 'handout' ? { file: 'text/handout.md', source } : null,
    guide: kind === 'handout' ? null : { file: 'text/guide.md', source },
    images: new Map([['text/track.png', png]]),
    bibliography,
  });
  const request = { settings: inEnglish, sources: [], madeBy: 'Benchwright', kinds: [kind], levels: [level] };
  const [tree] = take(draftDocuments(gathered, request, texts));
  if (tree === undefined) throw new Error('there is no tree');
  return tree.blocks;
}

const drafted = withText('');

/** The blocks of one section, without its heading. */
function sectionOf(blocks: readonly Block[], id: string): readonly Block[] {
  const start = blocks.findIndex((block) => block.kind === 'heading' && block.level === 1 && block.id === id);
  if (start < 0) return [];
  const rest = blocks.slice(start + 1);
  const end = rest.findIndex((block) => block.kind === 'heading' && block.level === 1);
  return end < 0 ? rest : rest.slice(0, end);
}

const idsOf = (blocks: readonly Block[]) =>
  blocks.flatMap((block) => (block.kind === 'heading' && block.level === 1 ? [block.id] : []));
const linesOfText = (blocks: readonly Block[]) =>
  [...walkBlocks(blocks)].flatMap((block) =>
    block.kind === 'paragraph' ? [plainLine(block.inlines, inEnglish)] : [],
  );

describe('a text of the author', () => {
  it('takes the place of the section that its heading names, and leaves the others as drafted', () => {
    const blocks = withText('## Aim\n\nOur own words.\n');
    expect(linesOfText(sectionOf(blocks, 'aim'))).toEqual(['Our own words.']);
    expect(idsOf(blocks)).toEqual(idsOf(drafted));
    for (const id of idsOf(drafted).filter((other) => other !== 'aim'))
      expect(sectionOf(blocks, id), id).toEqual(sectionOf(drafted, id));
  });

  it('finds the section by its name too, under any words', () => {
    const blocks = withText('## What we are after {#aim}\n\nOur own words.\n');
    expect(linesOfText(sectionOf(blocks, 'aim'))).toEqual(['Our own words.']);
  });

  it('adds to a section where it says ::draft', () => {
    const blocks = withText('## Procedure\n\nBefore.\n\n::draft\n\nBehind.\n');
    const [first, ...rest] = sectionOf(blocks, 'procedure');
    expect(rest.slice(0, -1)).toEqual(sectionOf(drafted, 'procedure'));
    expect(linesOfText([first, rest.at(-1)].flatMap((block) => block ?? []))).toEqual(['Before.', 'Behind.']);
  });

  it('makes a section of its own, behind the one that it follows', () => {
    const blocks = withText('## Aim\n\nA.\n\n## History\n\nLong ago.\n');
    expect(idsOf(blocks).slice(0, 3)).toEqual(['aim', 'history', 'background']);
    expect(linesOfText(sectionOf(blocks, 'history'))).toEqual(['Long ago.']);
  });

  it('cannot take cautions away, and adds its own behind them', () => {
    const cautions = (blocks: readonly Block[]) =>
      [...walkBlocks(blocks)].flatMap((block) => (block.kind === 'caution' ? [block] : []));
    const [before] = cautions(drafted);
    for (const source of [
      '## Set-up\n\nNothing here hurts.\n',
      '## Set-up\n',
      '# Set-up {#set-up}\n\n---\n',
    ]) {
      const [after, ...more] = cautions(withText(source));
      expect(more).toEqual([]);
      expect(after).toEqual(before);
    }
    const added = withText('## Set-up\n\n:::caution\nMind the *edge*.\n\n- Wear shoes.\n:::\n');
    const [after] = cautions(added);
    expect(after?.closing).toEqual(before?.closing);
    expect((after?.items ?? []).map((line) => plainLine(line, inEnglish))).toEqual([
      ...(before?.items ?? []).map((line) => plainLine(line, inEnglish)),
      'Mind the edge.',
      'Wear shoes.',
    ]);
    expect(
      added[added.findIndex((block) => block.kind === 'heading' && block.id === 'set-up') + 1]?.kind,
    ).toBe('caution');
  });
});

describe('directives', () => {
  it('put in quantities and results with the numbers of the pipeline', () => {
    const ledger = mainLedger(gathered, 's');
    const values = (text: string) =>
      [...walkInlines(sectionOf(withText(`## Aim\n\n${text}\n`), 'aim'))].flatMap((inline) =>
        inline.kind === 'value' ? [inline] : [],
      );
    expect(values(':value[a_0]')[0]).toMatchObject({ value: 1.5, standardUncertainty: 0.01 });
    expect(values(':value[a_0]{unit=cm/s^2}')[0]?.value).toBeCloseTo(150, 12);
    expect(values(':value[a_0]{digits=3}')[0]).toMatchObject({ value: 1.5, standardUncertainty: 0 });
    expect(values(':value[s]')[0]?.value).toBe(ledger?.full.value);
    expect(values(':value[s]{of=theory}')[0]?.value).toBe(3);
    expect(values(':value[s]{of=theory at="a_0 = 1 m/s^2"}')[0]?.value).toBe(2);
  });

  it('set symbols, formulas, TeX, gaps and citations', () => {
    const text =
      'As :symbol[a_0], :formula[v^2 = 2*a_0*(x - x)], :tex[\\frac{a_b}{*c*}], :blank{width=7}, :cite[lamb].';
    const blocks = withText(`## Aim\n\n${text}\n`);
    expect(linesOfText(sectionOf(blocks, 'aim'))).toEqual([
      'As a_0, v^2\u00a0=\u00a02*a_0*(x - x), \\frac{a_b}{*c*}, _______, [lamb].',
    ]);
    expect(sectionOf(blocks, 'references')).toMatchObject([
      { kind: 'references', entries: [{ key: 'lamb' }] },
    ]);
  });

  it('put in figures, tables and lines of the derivation', () => {
    const text =
      '::figure[The gap]{of=ledger}\n\n::table{of=results}\n\n::derivation{lines=2}\n\n![a slope](track.png "ours")\n';
    const blocks = sectionOf(withText(`## Aim\n\n${text}`, 'calculus'), 'aim');
    expect(blocks.map(({ kind }) => kind)).toEqual(['figure', 'table', 'equation', 'image']);
    expect(blocks[3]).toMatchObject({
      file: 'text/track.png',
      mediaType: 'image/png',
      widthPixels: 3,
      heightPixels: 2,
      alternative: 'a slope',
    });
  });

  it('show a passage at its levels only', () => {
    const text = '## Aim\n\n:::level{at="calculus"}\nWith integrals.\n:::\n\nAlways.\n';
    expect(linesOfText(sectionOf(withText(text, 'algebra'), 'aim'))).toEqual(['Always.']);
    expect(linesOfText(sectionOf(withText(text, 'calculus'), 'aim'))).toEqual(['With integrals.', 'Always.']);
  });

  it('keep answers and teacher notes from students, and tell them to teachers', () => {
    const source =
      '## Aim\n\nIt is :answer[blue].\n\n:::teacher\nShow it first.\n:::\n\n::::question{lines=3}\nWhy?\n\n:::answer\nBecause.\n:::\n::::\n';
    const handout = withText(source);
    const lines = linesOfText(handout);
    expect(lines).not.toContain('Show it first.');
    expect(lines).not.toContain('Because.');
    expect(lines).toContain('It is ______.');
    expect(sectionOf(handout, 'aim').at(-1)).toMatchObject({ kind: 'question', lines: 3, answer: [] });
    const texts = createTexts({
      handout: { file: 'text/handout.md', source },
      guide: null,
      images: new Map(),
    });
    const request = { settings: inEnglish, sources: [], madeBy: 'Benchwright' };
    const [guide] = take(draftDocuments(gathered, { ...request, kinds: ['teacher guide'] }, texts));
    const told = linesOfText(guide?.blocks ?? []);
    expect(told.filter((line) => line === 'Show it first.')).toHaveLength(1);
    expect(told.filter((line) => line === 'Why?')).toHaveLength(1);
    expect(told).toContain('Answer: Because.');
    expect(forStudents(guide?.blocks ?? []).some(({ kind }) => kind === 'teacher note')).toBe(false);
  });

  it('are not seen in ordinary words with colons', () => {
    const text = 'At 10:am, a ratio 3:x, and a note:this one.';
    expect(linesOfText(sectionOf(withText(`## Aim\n\n${text}\n`), 'aim'))).toEqual([text]);
  });

  it('work in the guide as well', () => {
    const blocks = withText('## Timing\n\nHalf of :answer[an hour].\n', 'algebra', 'teacher guide');
    expect(linesOfText(sectionOf(blocks, 'timing'))).toEqual(['Half of an hour.']);
  });
});

describe('pictures', () => {
  it.each([
    ['set-up.png', 'text/set-up.png'],
    ['../photos/a.jpg', 'photos/a.jpg'],
    ['./a/../b.png', 'text/b.png'],
    ['../../etc/passwd', null],
    ['/etc/passwd', null],
    ['C:\\a.png', null],
    ['https://example.org/a.png', null],
    ['data:image/png;base64,AAAA', null],
    ['..', null],
  ])('%s stands at %s in the folder', (written, path) => {
    expect(pathInFolder(written, 'text/handout.md')).toBe(path);
  });

  it('are listed before they are read, those inside the folder alone', () => {
    const source = '## Aim\n\n![a](track.png) ![b](../../x.png)\n\n- ![c](../p/c.jpg)\n';
    expect(imagesIn({ file: 'text/handout.md', source })).toEqual(['text/track.png', 'p/c.jpg']);
  });
});
