import type { Language } from '../../figure/index.ts';
import { fail, nearestName, type Outcome, problem, succeed } from '../../problem/index.ts';
import { english } from './english.ts';
import { german } from './german.ts';

/** Every fixed phrase of the documents in one language; what a language lacks does not compile. */
export type Phrases = typeof english;

/** Languages that documents speak, as BCP 47 tags; figures speak the same. */
export type LanguageCode = Language;

/** One entry a language; a further one is a folder of phrases and a line here. */
const PHRASES: Readonly<Record<LanguageCode, Phrases>> = { en: english, de: german };

export const LANGUAGES: readonly LanguageCode[] = ['en', 'de'];

export function phrasesOf(language: LanguageCode): Phrases {
  return PHRASES[language];
}

/** The language that somebody asked for: 'de', and 'de-AT' too. */
export function languageOf(written: string): Outcome<LanguageCode> {
  const [main] = written.toLowerCase().split(/[-_]/u);
  const found = LANGUAGES.find((language) => language === main);
  if (found !== undefined) return succeed(found);
  const near = nearestName(written, LANGUAGES);
  return fail(
    problem(
      'unknown-language',
      {},
      `Documents are not written in "${written}"; they are in ${LANGUAGES.join(' or ')}.`,
      near === undefined ? undefined : `Did you mean "${near}"?`,
    ),
  );
}
