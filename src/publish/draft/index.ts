export { draftCautions } from './cautions.ts';
export { createDesk, type Desk, foreignLanguage } from './desk.ts';
export { type AuthorsTexts, type DraftRequest, draftDocuments } from './draft-documents.ts';
export { draftTables } from './named-tables.ts';
export type { Names } from './names.ts';
export type { Section, SectionId } from './section.ts';
export { headingOf } from './section.ts';
export { draftSchematic } from './set-up.ts';
