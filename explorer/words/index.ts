import { english } from './english.ts';
import { german } from './german.ts';

/** Languages that the page speaks. */
export type PageLanguage = 'en' | 'de';

/** Every phrase of the page in one language. */
export type PageWords = typeof english;

/** One entry a language; a further one is a file of words and a line here. */
const WORDS: Readonly<Record<PageLanguage, PageWords>> = { en: english, de: german };

export function wordsOf(language: PageLanguage): PageWords {
  return WORDS[language];
}
