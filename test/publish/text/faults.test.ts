import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatProblem } from '../../../src/problem/index.ts';
import { walkBlocks, walkInlines } from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { createTexts, imagesIn } from '../../../src/publish/text/index.ts';
import { gatherText, inEnglish } from '../draft/gathered-lab.ts';
import { smallLab } from './small-lab.ts';

const gathered = gatherText(smallLab, { draws: 20, rehearsals: 4 });

function draftWith(source: string) {
  const images = new Map([['text/drawing.svg', new TextEncoder().encode('<svg onload="alert(1)"/>')]]);
  const texts = createTexts({ handout: { file: 'text/handout.md', source }, guide: null, images });
  const request = { settings: inEnglish, sources: [], madeBy: 'Benchwright', kinds: ['handout' as const] };
  return draftDocuments(gathered, request, texts);
}

/** What an author reads who put the text under the heading of the aim. */
function messagesOf(text: string): readonly string[] {
  const drafted = draftWith(`## Aim\n\n${text}\n`);
  return drafted.ok ? [] : drafted.problems.map(formatProblem);
}

describe('faults of a text are told at their place, with what was found and what would be right', () => {
  it.each([
    [
      'an unknown directive',
      'See the end of :valu[L].',
      ['text/handout.md:3:16  ":valu" is no directive. Did you mean "value"?'],
    ],
    [
      'an unknown directive on its own line',
      '::figur{of=ledger}',
      ['text/handout.md:3:1  "::figur" is no directive. Did you mean "figure"?'],
    ],
    [
      'an unknown enclosing directive',
      ':::techer\nHello.\n:::',
      ['text/handout.md:3:1  ":::techer" is no directive. Did you mean "teacher"?'],
    ],
    [
      'a directive written in another form',
      ':figure[x]{of=ledger}',
      ['text/handout.md:3:1  ":figure" does not stand in a line. It stands on a line of its own: ::figure.'],
    ],
    [
      'a directive of its own line within another',
      'See ::figure{of=ledger} here.',
      [
        'text/handout.md:3:1  "::figure" stands within a line, where it is no directive. It stands on a line of its own: ::figure.',
      ],
    ],
    [
      'a passage without an end',
      ':::teacher\nHello.\n\n## Procedure\n\nAll gone.',
      ['text/handout.md:3:1  ":::teacher" has no end. A line of as many colons as it begins with ends it.'],
    ],
    [
      'an unknown attribute',
      '::figure{off=ledger}',
      ['text/handout.md:3:1  "off" is no attribute of "figure". Did you mean "of"?'],
    ],
    [
      'an unknown quantity',
      'It is :value[a_O].',
      ['text/handout.md:3:7  "a_O" is no quantity and no result of this lab. Did you mean "a_0"?'],
    ],
    [
      'an unknown symbol',
      'It is :symbol[a_O].',
      ['text/handout.md:3:7  "a_O" is no symbol of this lab. Did you mean "a_0"?'],
    ],
    [
      'a number that is not there',
      ':value[s]{of=measured}',
      ['text/handout.md:3:1  s has not been measured. Ask for another part of it, such as of=full.'],
    ],
    [
      'a unit of another kind',
      ':value[a_0]{unit=kg}',
      [
        expect.stringMatching(
          /^text\/handout\.md:3:1 {2}kg has the dimension of|^text\/handout\.md:3:1 {2}m\/s\^2|^text\/handout\.md:3:1 {2}.*cannot be told in the other/u,
        ),
      ],
    ],
    [
      'a setting that the plan has not',
      ':value[s]{at="a_0 = 7 m/s^2"}',
      [expect.stringMatching(/^text\/handout\.md:3:1 {2}s has no setting "a_0 = 7 m\/s\^2"\./u)],
    ],
    [
      'a missing figure',
      '::figure{of=fit}',
      ['text/handout.md:3:1  The figure of "fit" is not there. No trial of the lab has a fit.'],
    ],
    [
      'an unknown figure',
      '::figure{of=ledgre}',
      ['text/handout.md:3:1  There is no figure of "ledgre". Did you mean "ledger"?'],
    ],
    [
      'a figure named like what every object has',
      '::figure{of=constructor}',
      [expect.stringMatching(/There is no figure of "constructor"\./u)],
    ],
    [
      'a missing table',
      '::table{of=slips}',
      ['text/handout.md:3:1  The table of "slips" is not there: the lab names none.'],
    ],
    [
      'lines that the derivation has not',
      '::derivation{lines=2-5}',
      ['text/handout.md:3:1  "lines" is "2-5", but the derivation has lines 1 to 2.'],
    ],
    [
      'a broken reference to a heading',
      'See [there](#procedur).',
      ['text/handout.md:3:5  No heading is named "#procedur". Did you mean "procedure"?'],
    ],
    [
      'a broken reference to a source',
      ':cite[lamb]',
      [expect.stringMatching(/^text\/handout\.md:3:1 {2}"lamb" is no source of this lab\./u)],
    ],
    [
      'an unknown level',
      ':::level{at=calculs}\nHi.\n:::',
      ['text/handout.md:3:1  "calculs" is no level. Did you mean "calculus"?'],
    ],
    [
      'a formula that cannot be read',
      ':formula[2*(x]',
      [expect.stringMatching(/^text\/handout\.md:3:1 {2}The formula "2\*\(x" cannot be read: /u)],
    ],
    [
      'markup with a script',
      'Hi <script>alert(1)</script> you.',
      [
        'text/handout.md:3:4  "<script>" is markup of web pages; texts are Markdown with directives. Put it between backquotes if it is to be read as it stands.',
        'text/handout.md:3:20  "</script>" is markup of web pages; texts are Markdown with directives. Put it between backquotes if it is to be read as it stands.',
      ],
    ],
    [
      'a block of markup',
      '<iframe src="x"></iframe>',
      [expect.stringMatching(/^text\/handout\.md:3:1 {2}"<iframe src="x"><\/iframe>" is markup/u)],
    ],
    [
      'a link that runs something',
      '[a](javascript:alert(1))',
      [
        'text/handout.md:3:1  The link leads to "javascript:alert(1)"; links lead to https:, http:, mailto: or a #heading.',
      ],
    ],
    [
      'a picture outside the folder',
      '![a](../../secret.png)',
      [
        'text/handout.md:3:1  The picture "../../secret.png" lies outside the lab\'s folder; pictures stand inside it. Copy the picture into text/.',
      ],
    ],
    [
      'a picture from another place',
      '![a](https://example.org/a.png)',
      [expect.stringMatching(/^text\/handout\.md:3:1 {2}The picture .* lies outside/u)],
    ],
    [
      'a picture that is not there',
      '![a](drawin.svg)',
      ['text/handout.md:3:1  There is no picture "text/drawin.svg". Did you mean "text/drawing.svg"?'],
    ],
    [
      'a picture that could hold a script',
      '![a](drawing.svg)',
      ['text/handout.md:3:1  "text/drawing.svg" is neither a PNG nor a JPEG picture. Save it as PNG.'],
    ],
    [
      'a gap that is too wide',
      ':blank{width=900}',
      ['text/handout.md:3:1  "width" is "900"; a whole number of characters from 1 to 60 stands there.'],
    ],
    [
      'a question without words',
      ':::question\n- a\n:::',
      ['text/handout.md:3:1  ":::question" begins with no paragraph; the question itself stands there.'],
    ],
    [
      'a section that stands twice',
      'A.\n\n## Aim\n\nB.',
      ['text/handout.md:5:1  The section "aim" stands here a second time. Join the two.'],
    ],
  ])('%s', (_, text, expected) => {
    expect(messagesOf(text)).toEqual(expected);
  });

  it('words before the first heading', () => {
    const drafted = draftWith('Hello.\n\n## Aim\n\nA.\n');
    expect(drafted.ok ? [] : drafted.problems.map(formatProblem)).toEqual([
      'text/handout.md:1:1  This stands before the first heading, so it belongs to no section. Put a heading over it, such as ## Aim.',
    ]);
  });

  it('all of them at once, in the order of the text, each once for all levels', () => {
    expect(messagesOf(':valu[a]\n\n::figure{of=x}\n\n:::level{at=calculus}\n:value[q]\n:::')).toHaveLength(3);
  });

  it('nesting without end, and a text without end', () => {
    expect(messagesOf(`${'> '.repeat(5000)}a`)[0]).toMatch(
      /^text\/handout\.md:3:1 {2}Quotations, lists or brackets/u,
    );
    expect(messagesOf(`${'['.repeat(20000)}a`)[0]).toMatch(/nested too deep/u);
    expect(messagesOf('a '.repeat(300_000))[0]).toMatch(/at most 500000/u);
  });
});

describe('any text', () => {
  const pieces = fc.constantFrom(
    '## Aim\n',
    '## ',
    '# Set-up {#set-up}\n',
    '\n',
    '\n\n',
    ' ',
    ':::',
    '::::',
    '::',
    ':',
    'value',
    'figure',
    'teacher',
    'question',
    'answer',
    'caution',
    'level',
    'draft',
    'table',
    '[',
    ']',
    '{',
    '}',
    '=',
    '"',
    'of=ledger',
    'at=calculus',
    'a_0',
    's',
    '*',
    '**',
    '_',
    '`',
    '```\n',
    '$',
    '- ',
    '1. ',
    '> ',
    '|',
    '---',
    '![',
    '](',
    ')',
    '<script>',
    '<!--',
    '-->',
    '&amp;',
    '\\',
    '#aim',
    'javascript:',
    '[x]: y\n',
    '\t',
    '\u0000',
    'é',
    '🙂',
  );
  const texts = fc.oneof(
    fc.array(pieces, { maxLength: 40 }).map((parts) => parts.join('')),
    fc.string({ unit: 'binary', maxLength: 120 }),
  );

  it('never throws; where it is taken, it brings neither markup that runs nor links that do, and cautions stay', () => {
    fc.assert(
      fc.property(texts, (text) => {
        imagesIn({ file: 'text/handout.md', source: text });
        const drafted = draftWith(`## Aim\n\n${text}`);
        if (!drafted.ok) {
          expect(drafted.problems.length).toBeGreaterThan(0);
          for (const { message, place } of drafted.problems) {
            expect(message).not.toBe('');
            expect(place.file).toBe('text/handout.md');
          }
          return;
        }
        for (const { blocks } of drafted.value) {
          for (const inline of walkInlines(blocks))
            if (inline.kind === 'link') expect(inline.to).toMatch(/^(?:https?:\/\/|mailto:|#)/iu);
          const cautions = [...walkBlocks(blocks)].filter(({ kind }) => kind === 'caution');
          expect(cautions.length).toBeGreaterThan(0);
          expect([...walkBlocks(blocks)].some(({ kind }) => kind === 'teacher note')).toBe(false);
        }
      }),
      { seed: 4, numRuns: 150 },
    );
  });
});
