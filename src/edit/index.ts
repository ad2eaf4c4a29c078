export { editLabText } from './edit-lab-text.ts';
export type { EditPlace, LabEdit, PlainValue } from './lab-edit.ts';
