export { type Completion, type Completions, completeLab } from './complete.ts';
export { editLabText } from './edit-lab-text.ts';
export { equipText } from './equip-text.ts';
export { type Explanation, explainLab } from './explain.ts';
export type { EditPlace, LabEdit, PlainValue } from './lab-edit.ts';
export type { LabClash } from './merge-data.ts';
export { type MergedLab, mergeLabTexts } from './merge-lab-texts.ts';
export { renameSymbol } from './rename-symbol.ts';
