import type { DecimalMark } from '../quantity/index.ts';
import type { RichText } from './rich-text.ts';
import type { Language } from './wording.ts';

/** n finite or missing (NaN) numbers, in the unit of their axis. */
export type Numbers = ArrayLike<number>;

/**
 * Who speaks in a mark. The same role looks the same in every figure: readings are discs in ink, the full model is a
 * solid line, the ideal one a dashed line, theory a dotted one.
 */
export type SeriesRole =
  | 'measured'
  | 'fit'
  | 'full'
  | 'ideal'
  | 'theory'
  | 'first'
  | 'second'
  | 'third'
  | 'fourth'
  | 'quiet';

interface Speaks {
  readonly role: SeriesRole;
  /** For the legend, the table and the description; empty where the mark needs none. */
  readonly name: RichText;
}

/** Readings, with their standard uncertainty as bars where it is stated. */
export interface PointsMark extends Speaks {
  readonly kind: 'points';
  readonly x: Numbers;
  readonly y: Numbers;
  readonly ux: Numbers | null;
  readonly uy: Numbers | null;
}

/** A line through values; a missing value (NaN) leaves a gap. */
export interface CurveMark extends Speaks {
  readonly kind: 'curve';
  readonly x: Numbers;
  readonly y: Numbers;
}

/** What lies between two curves: an uncertainty. */
export interface BandMark extends Speaks {
  readonly kind: 'band';
  readonly x: Numbers;
  readonly low: Numbers;
  readonly high: Numbers;
}

/** One value of an axis, drawn right across; along 'x' it is an upright line at a value of x. */
export interface RuleMark extends Speaks {
  readonly kind: 'rule';
  readonly along: 'x' | 'y';
  readonly at: number;
  /** Set above the plot over the line; only for rules along x. */
  readonly label: RichText;
}

/** A range of the x axis: hatched where it does not count, tinted where it is the one that counts. */
export interface RegionMark extends Speaks {
  readonly kind: 'region';
  readonly look: 'hatched' | 'tinted';
  readonly from: number;
  readonly to: number;
}

/** Bars of a histogram: n + 1 edges, n heights. */
export interface BarsMark extends Speaks {
  readonly kind: 'bars';
  readonly edges: Numbers;
  readonly heights: Numbers;
}

/** One row of a waterfall, in the order of the axis' rows. */
export type Level =
  | {
      readonly kind: 'total';
      readonly role: SeriesRole;
      readonly value: number;
      readonly standardUncertainty: number;
    }
  | {
      readonly kind: 'step' | 'rest';
      readonly from: number;
      readonly to: number;
      readonly standardUncertainty: number;
    };

/** Totals as points, steps as arrows that start where the last one ended; only on an axis of rows. */
export interface LevelsMark extends Speaks {
  readonly kind: 'levels';
  readonly levels: readonly Level[];
}

export type Mark = PointsMark | CurveMark | BandMark | RuleMark | RegionMark | BarsMark | LevelsMark;

/** An axis of numbers; it is headed `quantity / unit` as in ISO 80000-1, 7.1.3 (a quotient is a number). */
export interface NumberAxis {
  readonly kind: 'linear' | 'log';
  readonly quantity: RichText;
  /** As printed: 'm²/s²'; empty for a plain number. */
  readonly unit: string;
  /** Values that the axis must show even where no mark needs them. */
  readonly includes: readonly number[];
  /** Exactly this range, marks outside cut off; from the data where null. */
  readonly range: readonly [number, number] | null;
}

/** An axis of named rows, the first on top. */
export interface RowsAxis {
  readonly kind: 'rows';
  readonly rows: readonly AxisRow[];
  /** Over the numbers at the right. */
  readonly valueHeading: RichText;
}

export interface AxisRow {
  readonly label: RichText;
  /** At the right: the row's number. */
  readonly value: RichText;
  /** Rows that stand out: totals among steps. */
  readonly strong: boolean;
}

/** One plot; panels stand one above another and share the x axis. */
export interface Panel {
  readonly y: NumberAxis | RowsAxis;
  /** Height against the other panels. */
  readonly share: number;
  readonly marks: readonly Mark[];
}

/** What every figure has. */
interface FigureHead {
  /** Letters, digits and hyphens; identifiers in the SVG start with it. */
  readonly name: string;
  /** One line, without a full stop: the name that a screen reader says first. */
  readonly title: string;
  /** What there is to see, in words and numbers: the alternative text. */
  readonly description: string;
  readonly language: Language;
  readonly decimalMark: DecimalMark;
}

/** A figure with axes, as plain data: what is to be drawn, nothing of how it looks. */
export interface ChartFigure extends FigureHead {
  readonly kind: 'chart';
  /** Lines above the plot that say what it shows. */
  readonly statement: readonly RichText[];
  readonly x: NumberAxis;
  readonly panels: readonly Panel[];
}

/** A block of a schematic drawing. */
export interface SchematicBlock {
  readonly heading: RichText;
  readonly lines: readonly RichText[];
}

/** Columns of blocks from left to right, joined by arrows: what acts on what, not how it looks. */
export interface SchematicFigure extends FigureHead {
  readonly kind: 'schematic';
  readonly columns: readonly {
    readonly blocks: readonly SchematicBlock[];
    /** On the arrow that leads to the next column. */
    readonly leads: RichText;
  }[];
  /** Says that it is a schematic. */
  readonly footnote: RichText;
}

export type Figure = ChartFigure | SchematicFigure;
