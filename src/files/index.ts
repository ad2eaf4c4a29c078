export { adaptLabText } from './copied-lab.ts';
export { errorCode, refusal } from './file-problems.ts';
export { findLabFolder, type LabFolder, readerOf, readLabText } from './lab-folder.ts';
export { type LabFile, type LabTexts, readCompanions, readLabTexts, readTrialFiles } from './lab-texts.ts';
export { makeLabFrom } from './make-lab.ts';
export { changedFiles, listOf, readPublished } from './published-set.ts';
export { mendFolder, type NewFile, Stopped, writeWholeFolder } from './whole-files.ts';
