import { english } from './english.ts';
import { german } from './german.ts';

/** Languages in which marking speaks, as BCP 47 tags. */
export type MarkingLanguage = 'en' | 'de';

/** Every phrase of marking in one language; what a language lacks does not compile. */
export type MarkingPhrases = typeof english;

/** One entry a language; a further one is a file of phrases and a line here. */
const PHRASES: Readonly<Record<MarkingLanguage, MarkingPhrases>> = { en: english, de: german };

export function phrasesOf(language: MarkingLanguage): MarkingPhrases {
  return PHRASES[language];
}
