export { LANGUAGES, type LanguageCode, languageOf, type Phrases, phrasesOf } from './languages.ts';
