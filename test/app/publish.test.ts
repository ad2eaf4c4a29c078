import { describe, expect, it } from 'vitest';
import { DOCUMENTS, FORMATS, namesOfDocuments } from '../../app/stages/publish/order.ts';
import {
  addPassage,
  passagesIn,
  removePassage,
  SECTIONS,
  writePassage,
} from '../../app/stages/publish/passages.ts';
import { sayStale } from '../../app/stages/publish/stale.ts';
import { SET_FORMATS } from '../../src/publish/index.ts';

const text = `<!-- ours -->

## Background

Two words.

\`\`\`
## not a heading
\`\`\`

## How we built it {#building}

:::level{at=steps}
::draft
:::

Auswertung
----------

::draft
`;

describe('what is published', () => {
  it('offers every format that a set has', () => {
    expect(FORMATS.map(({ value }) => value).sort()).toEqual([...SET_FORMATS].sort());
  });

  it('names a handout for each level, and each other document once', () => {
    const names = namesOfDocuments(['steps', 'calculus']).map(({ value }) => value);
    expect(names).toEqual([
      'handout-steps',
      'handout-calculus',
      ...DOCUMENTS.slice(1).map(({ value }) => value),
    ]);
  });
});

describe('the passages of an author', () => {
  it('begin at headings alone, and stand for the section that they name in any language', () => {
    expect(passagesIn(text, 'handout').map(({ id, hasDraft }) => [id, hasDraft])).toEqual([
      ['background', false],
      ['building', true],
      ['analysis', true],
    ]);
  });

  it('are changed one by one: everything else stays to the letter', () => {
    const [first] = passagesIn(text, 'handout');
    if (first === undefined) throw new Error('no passage');
    const changed = writePassage(text, first, 'Three other words.');
    expect(passagesIn(changed, 'handout')[0]?.body).toBe('Three other words.');
    expect(
      changed.startsWith('<!-- ours -->\n\n## Background\n\nThree other words.\n\n## How we built it'),
    ).toBe(true);
    expect(changed.endsWith(text.slice(text.indexOf('## How')))).toBe(true);
    expect(removePassage(text, first)).toBe(text.slice(0, first.start) + text.slice(first.end));
  });

  it('come in where their section stands in the document', () => {
    const added = addPassage(text, 'handout', 'predict', 'Predict first');
    expect(passagesIn(added, 'handout').map(({ id }) => id)).toEqual([
      'background',
      'predict',
      'building',
      'analysis',
    ]);
    expect(passagesIn(addPassage('', 'guide', 'timing', 'Timing'), 'guide')).toMatchObject([
      { id: 'timing', body: '::draft', hasDraft: true },
    ]);
  });

  it('find every section again under the heading that is written over it', () => {
    for (const name of ['handout', 'guide'] as const)
      for (const id of SECTIONS[name])
        expect(passagesIn(addPassage('', name, id, 'Anything'), name)[0]?.id).toBe(id);
  });
});

describe('a published set', () => {
  const set = {
    files: [{ path: 'handout-algebra.pdf', digest: 'p' }],
    settings: { language: 'de' },
    sources: { 'lab.yaml': 'a', 'text/handout.de.md': 'b', 'trials/a.csv': 'c' },
    changed: [],
  };
  const now = new Map([
    ['lab.yaml', 'a'],
    ['text/handout.de.md', 'b'],
    ['text/handout.md', 'of the other language'],
    ['trials/a.csv', 'c'],
    ['trials/unused.csv', 'd'],
  ]);

  it('matches the lab while everything that it was made from is as it was', () => {
    expect(sayStale(set, now)).toEqual([]);
  });

  it('says which file has changed, is gone or is new, and which document was changed by hand', () => {
    const later = new Map([...now, ['lab.yaml', 'A'], ['text/guide.md', 'g']]);
    later.delete('trials/a.csv');
    expect(sayStale({ ...set, changed: ['talk.pdf'] }, later)).toEqual([
      'lab.yaml has changed since the documents were published.',
      'trials/a.csv is gone since the documents were published.',
      'text/guide.md is new since the documents were published.',
      'published/talk.pdf is missing, or was changed by hand after it was published.',
    ]);
  });
});
