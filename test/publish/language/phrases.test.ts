import { describe, expect, it } from 'vitest';
import { instrumentKinds } from '../../../src/instrument/index.ts';
import { plainLine } from '../../../src/publish/document/index.ts';
import { LANGUAGES, languageOf, phrasesOf } from '../../../src/publish/language/index.ts';

/** Phrases of a table by their path: 'guide.runs'. */
function flatten(table: object, path = ''): readonly (readonly [string, unknown])[] {
  return Object.entries(table).flatMap(([key, value]: [string, unknown]) =>
    typeof value === 'object' && value !== null
      ? flatten(value, `${path}${key}.`)
      : [[`${path}${key}`, value] as const],
  );
}

/** A phrase with marked parts in its gaps, and without white space at its ends. */
function speak(phrase: unknown): { readonly text: string; readonly gaps: number } {
  if (typeof phrase === 'string') return { text: phrase, gaps: 0 };
  if (typeof phrase !== 'function') throw new TypeError('a phrase is a text or makes one');
  const marks = Array.from({ length: phrase.length }, (_, index) => `<${index}>`);
  const said: unknown = phrase(...marks);
  const text = typeof said === 'string' ? said : Array.isArray(said) ? plainLine(said, plain) : '';
  return { text, gaps: phrase.length };
}

const plain = { decimalMark: '.', notation: 'plus-minus' } as const;

/** Phrases whose gaps choose words instead of standing in them. */
const CHOOSING = new Set([
  'background.measures',
  'background.newFromOld',
  'guide.overviewRuns',
  'setup.repeat',
  'guide.runs',
]);

/** What is the same word, or only signs, in both languages. */
const ALIKE = new Set([
  'documents.station',
  'documents.names',
  'background.resultAs',
  'background.valueAt',
  'setup.settingIs',
  'questions.effectBy',
  'questions.explainEffect',
  'guide.effect',
  'talk.slipGives',
  'cautions.threshold',
]);

describe.each(LANGUAGES)('the phrases in %s', (language) => {
  const phrases = flatten(phrasesOf(language));

  it('are all there, and none is empty', () => {
    expect(phrases.map(([path]) => path)).toEqual(flatten(phrasesOf('en')).map(([path]) => path));
    for (const [path, phrase] of phrases) expect(speak(phrase).text.trim(), path).not.toBe('');
  });

  it('use every part that they are given', () => {
    for (const [path, phrase] of phrases) {
      if (CHOOSING.has(path)) continue;
      const { text, gaps } = speak(phrase);
      for (let gap = 0; gap < gaps; gap++) expect(text, path).toContain(`<${gap}>`);
    }
  });
});

describe('settings of instruments', () => {
  it('have a name in every language, for every kind of instrument there is', () => {
    for (const language of LANGUAGES) {
      const names = Object.keys(phrasesOf(language).setup.settingNames);
      for (const { settings } of instrumentKinds.values())
        for (const { name } of settings) expect(names).toContain(name);
      expect(Object.keys(phrasesOf(language).setup.kinds)).toEqual([...instrumentKinds.keys()]);
    }
  });
});

describe('languages', () => {
  it('differ in every phrase that is made of words', () => {
    const german = new Map(flatten(phrasesOf('de')));
    for (const [path, phrase] of flatten(phrasesOf('en'))) {
      if (ALIKE.has(path)) continue;
      expect(speak(german.get(path)).text, path).not.toBe(speak(phrase).text);
    }
  });

  it('are known by their main tag', () => {
    expect(languageOf('de-AT')).toMatchObject({ ok: true, value: 'de' });
    expect(languageOf('EN')).toMatchObject({ ok: true, value: 'en' });
    expect(languageOf('fr').ok).toBe(false);
  });
});
