export { draftCautions, type FoundHazard, findHazards } from './cautions.ts';
export { createDesk, type Desk } from './desk.ts';
export { type AuthorsTexts, type DraftRequest, draftDocuments } from './draft-documents.ts';
export type { Names } from './names.ts';
export type { Section, SectionId } from './section.ts';
