import * as z from 'zod';

/** Documents by kind, as files are named after them, in the words of the screens. */
export const DOCUMENTS = [
  { value: 'handout', says: 'Student handout' },
  { value: 'teacher guide', says: 'Teacher guide' },
  { value: 'answer key', says: 'Answer key' },
  { value: 'equipment list', says: 'Equipment list' },
  { value: 'set-up sheet', says: 'Set-up sheet' },
  { value: 'data sheet', says: 'Data sheet' },
  { value: 'talk', says: 'Talk' },
] as const;

/** Formats of a set, as the command line names them. */
export const FORMATS = [
  { value: 'pdf', says: 'PDF, to print' },
  { value: 'html', says: 'web pages' },
  { value: 'docx', says: 'word processor (.docx)' },
  { value: 'slides', says: 'slides of the talk' },
  { value: 'spreadsheet', says: 'the model as a spreadsheet' },
  { value: 'code', says: 'the model as a program' },
  { value: 'qti', says: 'the answer key as test items (QTI 3)' },
  { value: 'explorer', says: 'the lab alive in one web page' },
  { value: 'pack', says: 'everything in one pack (.zip)' },
] as const;

export const orderForm = z.object({
  language: z.enum(['en', 'de']),
  paper: z.enum(['a4', 'letter']),
  decimal: z.enum(['point', 'comma']),
  notation: z.enum(['plus-minus', 'brackets']),
  formats: z.array(z.string()),
  documents: z.array(z.string()),
});

/** What is to be published, and how. */
export type Order = z.infer<typeof orderForm>;

/** The documents that can be looked at one by one: a handout for each level. */
export function namesOfDocuments(
  levels: readonly string[],
): readonly { readonly value: string; readonly says: string }[] {
  return DOCUMENTS.flatMap(({ value, says }) =>
    value === 'handout'
      ? levels.map((level) => ({ value: `handout-${level}`, says: `${says}, ${level}` }))
      : [{ value, says }],
  );
}
