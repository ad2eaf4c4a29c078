import { englishWords } from './words-english.ts';
import { germanWords } from './words-german.ts';
import type { WriterWords } from './writer-words.ts';

/**
 * The phrases of a language; English where the language has none. A further language is one file and one line here.
 *
 * @param language a BCP 47 tag; only its first part counts
 */
export function wordsOf(language: string): WriterWords {
  return language.toLowerCase().split('-')[0] === 'de' ? germanWords : englishWords;
}
