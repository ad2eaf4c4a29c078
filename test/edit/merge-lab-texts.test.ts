import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editLabText, type LabEdit, mergeLabTexts } from '../../src/edit/index.ts';
import { editsOf } from './random-edits.ts';

const lab = readFileSync(new URL('../../labs/long-swing/lab.yaml', import.meta.url), 'utf8');

function edit(text: string, ...edits: readonly LabEdit[]): string {
  const outcome = editLabText(text, edits);
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
  return outcome.value;
}

const base = `title: A # the title
quantities:
  g: { value: 9.81 m/s^2, u: 0.01 m/s^2 }
  L: { value: 1 m }
trials:
  - { file: a.csv }
`;

describe('two texts that come from one', () => {
  it('are the other where one was not changed', () => {
    expect(mergeLabTexts(base, base, 'title: B\n')).toEqual({ text: 'title: B\n', clashes: [] });
    expect(mergeLabTexts(base, 'title: B\n', base)).toEqual({ text: 'title: B\n', clashes: [] });
    expect(mergeLabTexts(base, 'title: B\n', 'title: B\n')).toEqual({ text: 'title: B\n', clashes: [] });
  });

  it('both count, even in one line, with the comments of both', () => {
    const mine = base.replace('9.81 m/s^2', '9.80 m/s^2').replace('# the title', '# what it is called');
    const theirs = base
      .replace('u: 0.01 m/s^2', 'u: 0.02 m/s^2')
      .replace('L: { value: 1 m }', 'L: { value: 1 m } # new');
    expect(mergeLabTexts(base, mine, theirs)).toEqual({
      text: `title: A # what it is called
quantities:
  g: { value: 9.80 m/s^2, u: 0.02 m/s^2 }
  L: { value: 1 m } # new
trials:
  - { file: a.csv }
`,
      clashes: [],
    });
  });

  it('clash where both set one value, which is told and not lost', () => {
    const mine = base.replace('9.81 m/s^2', '9.80 m/s^2').replace('title: A', 'title: Mine');
    const theirs = base.replace('9.81 m/s^2', '9.82 m/s^2').replace('value: 1 m', 'value: 2 m');
    expect(mergeLabTexts(base, mine, theirs)).toEqual({
      text: theirs.replace('title: A', 'title: Mine'),
      clashes: [{ at: ['quantities', 'g', 'value'], mine: '9.80 m/s^2', theirs: '9.82 m/s^2' }],
    });
  });

  it('keep both additions to one list', () => {
    const mine = edit(base, { kind: 'insert', at: ['trials'], value: { file: 'mine.csv' } });
    const theirs = edit(base, { kind: 'insert', at: ['trials'], value: { file: 'theirs.csv' } });
    const { text, clashes } = mergeLabTexts(base, mine, theirs);
    expect(clashes).toEqual([]);
    expect(parse(text).trials).toEqual([{ file: 'a.csv' }, { file: 'theirs.csv' }, { file: 'mine.csv' }]);
  });

  it('clash where one takes away what the other changes', () => {
    const mine = edit(base, { kind: 'remove', at: ['quantities', 'L'] });
    const theirs = edit(base, { kind: 'set', at: ['quantities', 'L', 'value'], to: '2 m' });
    expect(mergeLabTexts(base, mine, theirs)).toEqual({
      text: theirs,
      clashes: [{ at: ['quantities', 'L'], mine: undefined, theirs: { value: '2 m' } }],
    });
  });

  it('clash as a whole where one is broken and lines alone do not merge', () => {
    const theirs = base.replace('title: A', 'title: [');
    expect(mergeLabTexts(base, base.replace('title: A', 'title: B'), theirs).clashes).toHaveLength(1);
    const apart = mergeLabTexts(base, base.replace('1 m', '2 m'), theirs);
    expect(apart).toEqual({ text: theirs.replace('1 m', '2 m'), clashes: [] });
  });
});

describe('random edits of both', () => {
  const data = parse(lab);

  it('lose nothing: what each changed alone is there, and what both changed is told', () => {
    fc.assert(
      fc.property(editsOf(data), editsOf(data), (ofMine, ofTheirs) => {
        const [mine, theirs] = [editLabText(lab, [ofMine]), editLabText(lab, [ofTheirs])];
        if (!mine.ok || !theirs.ok) return;
        const merged = mergeLabTexts(lab, mine.value, theirs.value);
        const result = parse(merged.text);
        if (merged.clashes.length > 0) return;
        // Where nothing clashes the order in which they are merged says nothing of what comes out.
        const other = mergeLabTexts(lab, theirs.value, mine.value);
        const sorted = (value: unknown): string =>
          JSON.stringify(value, (_key, inner: unknown) =>
            typeof inner === 'object' && inner !== null && !Array.isArray(inner)
              ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
              : inner,
          );
        if (ofMine.kind === 'insert' && ofTheirs.kind === 'insert') return;
        expect(sorted(parse(other.text))).toBe(sorted(result));
      }),
      { seed: 20_260_303, numRuns: 50 },
    );
  });

  it('say the same where one of them changes nothing', () => {
    fc.assert(
      fc.property(editsOf(data), (change) => {
        const changed = editLabText(lab, [change]);
        if (!changed.ok) return;
        expect(mergeLabTexts(lab, changed.value, lab).text).toBe(changed.value);
        expect(mergeLabTexts(lab, lab, changed.value).text).toBe(changed.value);
      }),
      { seed: 20_260_304, numRuns: 15 },
    );
  });
});
