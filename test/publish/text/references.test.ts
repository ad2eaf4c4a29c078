import { existsSync, readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatProblem } from '../../../src/problem/index.ts';
import { plainLine } from '../../../src/publish/document/index.ts';
import { phrasesOf } from '../../../src/publish/language/index.ts';
import { formatSource, readBibliography } from '../../../src/publish/text/index.ts';
import { inEnglish, take } from '../draft/gathered-lab.ts';

const lineOf = (source: Parameters<typeof formatSource>[0], language: 'en' | 'de' = 'en') =>
  plainLine(formatSource(source, phrasesOf(language)), inEnglish);

async function linesOf(text: string, file = 'references.bib') {
  const { entries } = take(await readBibliography(text, file));
  return [...entries.values()].map((source) => lineOf(source));
}

describe('the sources of a lab', () => {
  it('read from BibTeX, accents, names of bodies and ranges of pages among them', async () => {
    const text = String.raw`
      @article{moritz1980, author = {Moritz, H.}, title = {Geodetic Reference System 1980},
        journal = {Bulletin G{\'e}od{\'e}sique}, volume = {54}, pages = {395--405}, year = {1980}}
      @techreport{jcgm100, author = {{Joint Committee for Guides in Metrology}}, title = {Guide},
        institution = {BIPM}, number = {JCGM 100:2008}, year = {2008}}
      @book{as, editor = {Abramowitz, Milton and Stegun, Irene A.}, title = {Handbook}, edition = {2}, year = {1964}}`;
    expect(await linesOf(text)).toEqual([
      'H. Moritz, Geodetic Reference System 1980, Bulletin Géodésique, 54, pp. 395–405, 1980.',
      'Joint Committee for Guides in Metrology, Guide, BIPM, JCGM 100:2008, 2008.',
      'M. Abramowitz and I. A. Stegun (eds), Handbook, edition 2, 1964.',
    ]);
  });

  it('read from CSL-JSON, with an address made of the DOI', async () => {
    const csl = [
      {
        id: 'york',
        type: 'article-journal',
        title: 'Unified equations',
        author: [{ family: 'York', given: 'Derek' }],
        'container-title': 'Am. J. Phys.',
        volume: 72,
        page: '367-375',
        issued: { 'date-parts': [[2004]] },
        DOI: '10.1119/1.1632486',
      },
    ];
    expect(await linesOf(JSON.stringify(csl), 'references.json')).toEqual([
      'D. York, Unified equations, Am. J. Phys., 72, pp. 367–375, 2004. https://doi.org/10.1119/1.1632486',
    ]);
  });

  it('of every lab of the gallery are read whole', async () => {
    const labs = new URL('../../../labs/', import.meta.url);
    for (const name of readdirSync(labs)) {
      if (!existsSync(new URL(`${name}/lab.yaml`, labs))) continue;
      const text = readFileSync(new URL(`${name}/references.bib`, labs), 'utf8');
      const { entries } = take(await readBibliography(text, 'references.bib'));
      expect(entries.size, name).toBe(text.match(/^@/gmu)?.length);
    }
  });

  it('are listed in the words of the language', () => {
    expect(lineOf({ id: 'a', type: 'book', title: 'Dynamics', edition: '2', page: '3-4' }, 'de')).toBe(
      'Dynamics, Auflage 2, S. 3–4.',
    );
  });

  it.each([
    ['@book{a, title={x}\n @article{', 'references.bib', /^references\.bib:2:2 {2}This is not BibTeX: /u],
    ['[{]', 'references.json', /^references\.json {2}This is not JSON: /u],
    ['{}', 'references.json', /^references\.json {2}CSL-JSON is a list/u],
    ['[{"id":"a","type":"book"},{"id":"a","type":"book"}]', 'references.json', /"a" stands there twice/u],
    ['[{"type":"book"}]', 'references.json', /^references\.json {2}Source 1 cannot be read: id/u],
  ])('%s is told as it is', async (text, file, expected) => {
    const read = await readBibliography(text, file);
    expect(read.ok ? '' : read.problems.map(formatProblem).join('\n')).toMatch(expected);
  });

  it('an address is not fetched but told to hold no source', async () => {
    const read = await readBibliography('https://example.org/a.bib', 'references.bib');
    expect(read).toMatchObject({ ok: false, problems: [{ code: 'no-sources' }] });
  });

  it('any text is read or refused, never thrown at', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.constantFrom(
            '@book',
            '{',
            '}',
            'a',
            ',',
            '=',
            '"',
            '\\',
            "'e",
            '#',
            '\n',
            '@string',
            '1980',
            ' and ',
            '$',
          ),
        ),
        async (parts) => {
          const read = await readBibliography(parts.join(''), 'references.bib');
          expect(typeof read.ok).toBe('boolean');
        },
      ),
      { seed: 7, numRuns: 150 },
    );
  });
});
