export type { Miscount } from './english.ts';
export { type MarkingLanguage, type MarkingPhrases, phrasesOf } from './languages.ts';
