import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { HAZARDS } from '../../src/adapt/index.ts';
import { formatProblem } from '../../src/problem/index.ts';
import { draftDocuments, draftTables } from '../../src/publish/draft/index.ts';
import type { Gathered } from '../../src/publish/gather/index.ts';
import { SET_FORMATS } from '../../src/publish/index.ts';
import { phrasesOf } from '../../src/publish/language/index.ts';
import { ALL_DIRECTIVES } from '../../src/publish/text/directive-names.ts';
import { FIGURE_NAMES } from '../../src/publish/text/figures-named.ts';
import { createTexts, readBibliography } from '../../src/publish/text/index.ts';
import { PARTS } from '../../src/publish/text/numbers-named.ts';
import { gatherLab, inEnglish, take } from './draft/gathered-lab.ts';

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const text = read('docs/text.md');
const documents = read('docs/documents.md');

let gathered: Gathered;

beforeAll(async () => {
  gathered = await gatherLab('tow-chain', { withTrials: true, draws: 20, rehearsals: 3 });
}, 120_000);

describe('the page on texts', () => {
  it('names every directive, part of a result, figure, table and section', () => {
    for (const name of ALL_DIRECTIVES) expect(text).toMatch(new RegExp(`:${name}\\b`, 'u'));
    for (const name of [...PARTS, ...FIGURE_NAMES, ...Object.keys(draftTables)])
      expect(text).toContain(`\`${name}\``);
    const [handout] = take(
      draftDocuments(gathered, { settings: inEnglish, sources: [], madeBy: '', kinds: ['handout'] }),
    );
    const [guide] = take(
      draftDocuments(gathered, { settings: inEnglish, sources: [], madeBy: '', kinds: ['teacher guide'] }),
    );
    const { headings } = phrasesOf('en').documents;
    for (const block of [...(handout?.blocks ?? []), ...(guide?.blocks ?? [])]) {
      if (block.kind !== 'heading' || block.level !== 1) continue;
      expect(text).toContain(`\`${block.id}\``);
      expect(text).toContain(Object.entries(headings).find(([id]) => id === block.id)?.[1]);
    }
  });

  const examples = [...text.matchAll(/```markdown\n([\s\S]*?)```/gu)].map(([, source = '']) => source);

  it.each(examples)('has examples that are taken as they stand: %#', async (source) => {
    const bibliography = take(
      await readBibliography(read('labs/tow-chain/references.bib'), 'references.bib'),
    );
    const texts = createTexts({
      handout: { file: 'text/handout.md', source },
      guide: null,
      images: new Map(),
      bibliography,
    });
    const request = { settings: inEnglish, sources: [], madeBy: '', kinds: ['handout' as const] };
    const drafted = draftDocuments(gathered, request, texts);
    expect(drafted.ok ? [] : drafted.problems.map(formatProblem)).toEqual([]);
  });
});

describe('the page on documents', () => {
  it('names every threshold with its unit and its source', () => {
    for (const { threshold, unit, source } of HAZARDS) {
      expect(documents).toContain(`| ${threshold} ${unit.text} | ${source ?? 'common practice, no source'}`);
    }
  });

  it('names every kind of document and the pack', () => {
    for (const kind of Object.keys(phrasesOf('en').documents.kinds))
      expect(documents).toContain(`\`${kind.replaceAll(' ', '-')}${kind === 'handout' ? '-steps' : ''}\``);
    expect(SET_FORMATS).toEqual([
      ...['html', 'pdf', 'docx', 'spreadsheet', 'code', 'slides', 'qti', 'explorer', 'pack'],
    ]);
    expect(documents).toContain('`explorer.html`');
    expect(documents).toContain('`pack.zip`');
  });
});
