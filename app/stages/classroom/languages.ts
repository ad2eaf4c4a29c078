import type { MarkingLanguage } from '../../../src/classroom/index.ts';

/** In which what helps a group is told. */
export const LANGUAGES: readonly { readonly value: MarkingLanguage; readonly says: string }[] = [
  { value: 'en', says: 'English' },
  { value: 'de', says: 'German' },
];
