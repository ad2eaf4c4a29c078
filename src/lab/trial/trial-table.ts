import type { Problem } from '../../problem/index.ts';
import type { Unit } from '../../quantity/index.ts';

/** What stands between two cells. 'space' is any run of spaces and tabs; 'none' is one cell a line. */
export type Delimiter = ',' | ';' | '\t' | '|' | 'space' | 'none';

export type DecimalMark = '.' | ',';

/** A cell of a number column that holds text. `line` is of the file, 1-based; `row` counts readings from 0. */
export interface BadCell {
  readonly row: number;
  readonly line: number;
  readonly text: string;
}

/** One column of numbers of one run. */
export interface TableColumn {
  /** The heading without unit and without the run's label or number. */
  readonly name: string;
  /** The heading as written, whole; rows of a heading in several rows are joined by a space. */
  readonly heading: string;
  /** null where the file names none, or one that is not known (a note says so). */
  readonly unit: Unit | null;
  /** One value a reading; NaN where the cell is blank, marked as overload, or not a number. */
  readonly values: Float64Array;
  /** Which of the runs in the file, from 1. */
  readonly run: number;
  /** Which column of the file, from 1. */
  readonly position: number;
  /** How many cells are blank, or marked as missing ('-', 'NaN', 'n/a'). */
  readonly blanks: number;
  /** How many cells are marked as over range ('OL', 'overload', 'inf'). */
  readonly overloads: number;
  /** Text where a number should be: how often, and the first twenty places as problems of severity 'error'. */
  readonly notNumbers: { readonly count: number; readonly first: readonly Problem[] };
}

/** A column that holds words: kept out of the numbers, named for the reader. */
export interface TextColumn {
  readonly heading: string;
  readonly run: number;
  readonly position: number;
  /** Up to three different cells. */
  readonly examples: readonly string[];
}

/** What the stamps of one run's time column look like; interval in the column's own unit. */
export interface StampSummary {
  readonly heading: string;
  readonly run: number;
  /** Median step; null where the steps are not of one length. */
  readonly interval: number | null;
  readonly repeated: number;
  readonly backward: number;
  readonly gaps: number;
}

/** How several runs were told apart. */
export type RunLayout = 'label in the heading' | 'row of labels' | 'repeated headings' | 'numbered headings';

/** What the reader took for what, as data; describeRecognition says it in words. Lines are 1-based. */
export interface Recognition {
  readonly container: 'text' | 'xlsx' | 'ods';
  /** null for a spreadsheet. */
  readonly encoding: string | null;
  readonly byteOrderMark: boolean;
  /** null for a spreadsheet. */
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark;
  readonly thousandsMark: string | null;
  readonly sheet: string | null;
  readonly otherSheets: readonly string[];
  /** Lines with text before the heading. */
  readonly preambleLines: number;
  /** Lines of the file that make the heading, units and labels included. */
  readonly headingLines: readonly number[];
  readonly unitLine: number | null;
  readonly labelLine: number | null;
  /** Line of the first reading. */
  readonly firstLine: number;
  readonly runs: number;
  /** Runs beside each other, in one stretch of lines. */
  readonly runsSideBySide: number;
  readonly runsSideBySideBy: RunLayout | null;
  /** Stretches of lines, one below another. */
  readonly runsStacked: number;
  /** A label for each run, '' where the file gives none. */
  readonly runLabels: readonly string[];
  readonly textColumns: readonly TextColumn[];
  /** Columns without a single number. */
  readonly blankColumns: number;
  /** Headings of columns of clock times or dates, read as seconds. */
  readonly clockColumns: readonly string[];
  /** Headings of columns whose cells bear a unit behind the number. */
  readonly cellUnitColumns: readonly string[];
  readonly blankLines: number;
  readonly commentLines: number;
  /** Lines of words among the readings. */
  readonly remarkLines: number;
  /** Lines with fewer or more cells than the table has columns. */
  readonly raggedLines: number;
  readonly blankCells: number;
  readonly overloadCells: number;
  readonly stamps: readonly StampSummary[];
  /** What was not detected but told, in the words of the lab file: 'decimal mark', 'first row' … */
  readonly told: readonly string[];
}

/** The readings of one file. */
export interface TrialTable {
  /** Name of the file, for messages. */
  readonly file: string;
  readonly columns: readonly TableColumn[];
  /** Readings of the longest run; the columns of a shorter run are shorter. */
  readonly rows: number;
  /** Line of the file (row of the sheet) where reading `i` (from 0) of a run (from 1) stands. */
  rowNumbers(i: number, run?: number): number;
  readonly recognised: Recognition;
  /** SHA-256 of the bytes, 64 hexadecimal digits. */
  readonly sha256: string;
  /** All of severity 'warning': what a person should know before trusting the table. */
  readonly notes: readonly Problem[];
}

/** What a lab file tells instead of letting it be detected ('as read:'). */
export interface Overrule {
  /** ',', ';', '|', 'tab', 'space' or 'none'. */
  readonly delimiter?: string;
  /** '.' or ','. */
  readonly decimalMark?: string;
  /** A label of the Encoding Standard: 'utf-8', 'utf-16le', 'windows-1252' … */
  readonly encoding?: string;
  /** How many non-blank lines directly above the first reading make the heading; 0 for none. */
  readonly headerRows?: number;
  /** Line of the first reading, 1-based. */
  readonly firstRow?: number;
  /** Line of the last reading, 1-based. */
  readonly lastRow?: number;
  /** Name of the sheet, or its number from 1. */
  readonly sheet?: string | number;
  /** Unit by heading (or name) of a column; 'mm:ss' and 'hh:mm' say how two-part clock times are meant. */
  readonly units?: Readonly<Record<string, string>>;
}
