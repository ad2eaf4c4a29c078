import { english } from './english.ts';
import { german } from './german.ts';

/** Languages in which a lesson speaks. */
export type LessonLanguage = 'en' | 'de';

/** Every phrase of a lesson in one language. */
export type LessonWords = typeof english;

/** One entry a language; a further one is a file of words and a line here. */
const WORDS: Readonly<Record<LessonLanguage, LessonWords>> = { en: english, de: german };

export function wordsOf(language: LessonLanguage): LessonWords {
  return WORDS[language];
}
