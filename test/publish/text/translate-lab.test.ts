import { describe, expect, it } from 'vitest';
import { readLab } from '../../../src/lab/index.ts';
import { formatProblem } from '../../../src/problem/index.ts';
import { walkInlines } from '../../../src/publish/document/index.ts';
import { writeDocx } from '../../../src/publish/docx/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { writeHtml } from '../../../src/publish/html/index.ts';
import { createTexts, translateLab } from '../../../src/publish/text/index.ts';
import { gatherText, inEnglish, take } from '../draft/gathered-lab.ts';
import { smallLab } from './small-lab.ts';

const words = `
A ball on a slope: Eine Kugel auf schiefer Ebene
gates: Lichtschranken
air: Luft
"Air holds   the ball back.": Luft hält die Kugel zurück.
the ball is caught: die Kugel wird aufgefangen
`;

const inGerman = { ...inEnglish, language: 'de', decimalMark: ',' as const };

function handout(lab: string, translated: ReadonlySet<string>, source: string | null = null) {
  const texts = createTexts({
    handout: source === null ? null : { file: 'text/handout.md', source },
    guide: null,
    images: new Map(),
  });
  const gathered = gatherText(lab, { draws: 20, rehearsals: 3 });
  const request = { settings: inGerman, sources: [], madeBy: 'Benchwright', kinds: ['handout' as const] };
  const [tree] = take(draftDocuments(gathered, { ...request, translated }, texts));
  if (tree === undefined) throw new Error('there is no handout');
  return tree;
}

describe('the words of a lab in another language', () => {
  it('are exchanged wherever they stand, names that steps refer to among them', () => {
    const translation = take(translateLab(smallLab, words, 'text/words.de.yaml'));
    const lab = take(readLab(translation.text, 'lab.yaml'));
    expect(lab.title).toBe('Eine Kugel auf schiefer Ebene');
    expect(lab.effects.map(({ name, is }) => [name, is])).toEqual([['Luft', 'Luft hält die Kugel zurück.']]);
    expect(lab.instruments.map(({ name }) => name)).toEqual(['Lichtschranken']);
    expect(translation.translated.has('die Kugel wird aufgefangen')).toBe(true);
  });

  it('leave a mark of the language on all that was not translated', () => {
    const { text, translated } = take(translateLab(smallLab, words, 'text/words.de.yaml'));
    const html = writeHtml(handout(text, translated));
    expect(html).toContain('<h1>Eine Kugel auf schiefer Ebene</h1>');
    expect(html).toContain(
      '<span lang="en" xml:lang="en">Does the speed squared grow in step with the way?</span>',
    );
    expect(html).not.toContain('<span lang="en" xml:lang="en">Luft');
    expect(html).toContain('<html lang="de"');
    const plain = writeHtml(handout(smallLab, new Set()));
    expect(plain).toContain('<h1 lang="en" xml:lang="en">A ball on a slope</h1>');
  });

  it("are marked in an author's text of another language too, in every format", async () => {
    const tree = handout(smallLab, new Set(), '## Background\n\nOnly *mine*.\n');
    const marked = [...walkInlines(tree.blocks)].flatMap((inline) =>
      inline.kind === 'language' ? [inline.language] : [],
    );
    expect(new Set(marked)).toEqual(new Set(['en']));
    expect(writeHtml(tree)).toContain('<span lang="en" xml:lang="en">Only <em>mine</em>.</span>');
    expect((await writeDocx(tree)).length).toBeGreaterThan(1000);
  });

  it.each([
    [
      'a word that the lab does not have',
      'wheel: Rad',
      'text/words.de.yaml:1:1  The lab has no words "wheel". They stand there as they do in the lab file.',
    ],
    [
      'what is no list of words',
      '- a\n- b',
      'text/words.de.yaml:1:1  It is a list of the form "words of the lab: the same in the other language".',
    ],
    [
      'a word without a translation',
      'air:',
      'text/words.de.yaml:1:1  It is a list of the form "words of the lab: the same in the other language".',
    ],
    [
      'a list that is no YAML',
      'air: "Luft',
      /^text\/words\.de\.yaml:1:\d+ {2}The list of words cannot be read: /u,
    ],
  ])('are told at their place: %s', (_, source, expected) => {
    const outcome = translateLab(smallLab, source, 'text/words.de.yaml');
    const problems = outcome.ok ? outcome.warnings : outcome.problems;
    expect(problems.map(formatProblem)[0]).toMatch(expected);
  });
});
