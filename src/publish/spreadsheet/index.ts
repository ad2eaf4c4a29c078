export { emitFormula } from './emit-formula.ts';
export { sheetNames } from './sheet-names.ts';
export { type SpreadsheetOptions, writeSpreadsheet } from './write-spreadsheet.ts';
