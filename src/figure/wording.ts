import type { DecimalMark } from '../quantity/index.ts';
import type { Phrases } from './phrases.ts';
import { englishPhrases } from './phrases-english.ts';
import { germanPhrases } from './phrases-german.ts';

/** Languages that figures speak, as BCP 47 tags. */
export type Language = 'en' | 'de';

/** How a figure speaks and writes numbers; the two are free of each other. */
export interface Wording {
  readonly language: Language;
  readonly decimalMark: DecimalMark;
}

/** One entry a language; a further one is a file of phrases and a line here. */
const PHRASES: Readonly<Record<Language, Phrases>> = { en: englishPhrases, de: germanPhrases };

export function phrasesOf(language: Language): Phrases {
  return PHRASES[language];
}
