import { englishWords } from './words-english.ts';
import { germanWords } from './words-german.ts';

/** Every fixed phrase that a writer itself puts into a document. */
export interface WriterWords {
  readonly skipToContent: string;
  readonly contents: string;
  readonly caution: string;
  readonly question: (number: number) => string;
  readonly answer: string;
  readonly forTheTeacher: string;
  readonly figure: (number: number) => string;
  readonly table: (number: number) => string;
  /** Said in place of a gap to those who hear the document. */
  readonly blank: string;
  readonly page: string;
  readonly of: string;
  readonly licence: string;
  readonly madeFrom: string;
  readonly madeBy: string;
  readonly digest: string;
  readonly slide: (number: number, count: number) => string;
  readonly talkTime: (planned: string) => string;
  readonly onThisSlide: (planned: string, until: string) => string;
  readonly speakerNotes: string;
}

/**
 * The phrases of a language; English where the language has none. A further language is one file and one line here.
 *
 * @param language a BCP 47 tag; only its first part counts
 */
export function wordsOf(language: string): WriterWords {
  return language.toLowerCase().split('-')[0] === 'de' ? germanWords : englishWords;
}
