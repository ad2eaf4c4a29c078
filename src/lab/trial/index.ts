export { describeRecognition } from './describe-recognition.ts';
export { findColumn } from './find-column.ts';
export { readCells, type TextCells } from './read-cells.ts';
export { listSheets } from './read-sheet.ts';
export { type ReadTrialOptions, readTrial } from './read-trial.ts';
export type {
  Delimiter,
  Overrule,
  Recognition,
  RunLayout,
  StampSummary,
  TableColumn,
  TextColumn,
  TrialTable,
} from './trial-table.ts';
