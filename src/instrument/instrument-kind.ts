import type { RowStep } from '../engine/index.ts';
import type { Tree } from '../expression/index.ts';
import type { RandomSource } from '../inference/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type { SettingSpec, SettingValues } from './setting-spec.ts';
import type { SettingTrees } from './setting-trees.ts';
import type { SharedErrors } from './shared-errors.ts';
import type { Source } from './source.ts';

/** A column of numbers in SI. */
export interface Column {
  readonly name: string;
  readonly values: Float64Array;
  readonly dimension: Dimension;
  /** Standard uncertainty, one for all rows or one a row; 0 where none is stated. */
  readonly u: Float64Array | number;
  /** Present where rows share errors: then `u` alone does not tell how rows vary together. */
  readonly sharedErrors?: SharedErrors;
  /** Step between neighbouring possible readings; a mean of many does not get finer than its rounding. */
  readonly division?: number;
}

/** What an instrument gave in one run: raw columns of equal length, as a file of readings holds them. */
export interface Readings {
  /** The kind of instrument, or the name that the lab gives it. */
  readonly instrument: string;
  readonly columns: readonly Column[];
  readonly notes: readonly Problem[];
}

/** What an instrument looks at: `against` is there for a relation, which is read at the values of a setting. */
export interface SignalShape {
  readonly dimension: Dimension;
  readonly against?: { readonly name: string; readonly dimension: Dimension };
}

export interface ColumnShape {
  readonly name: string;
  readonly dimension: Dimension;
}

/** One expression or condition that an instrument is pointed at. */
export interface SignalSpec {
  /** Key in the lab file: 'of', 'from', 'to'. */
  readonly name: string;
  readonly what: string;
  readonly kind: 'value' | 'condition';
  /** 'any' where every dimension can be read. Conditions have none. */
  readonly dimension: Dimension | 'any';
  readonly required: boolean;
}

/**
 * What the batch engine is to read, in expressions of the lab's quantities: times at which the signal passes multiples
 * of a spacing, its values at equal intervals (or means over so long from then on), or times at which it rises through
 * levels.
 */
export type LanesSeries =
  | { readonly kind: 'crossings'; readonly spacing: Tree; readonly offset: Tree }
  | { readonly kind: 'samples'; readonly start: Tree; readonly interval: Tree; readonly over?: Tree }
  | { readonly kind: 'passages'; readonly levels: readonly Tree[] };

/** How the readings of many runs at once are taken in the batch engine, without looking at the motions one by one. */
export interface LanesReading {
  series(settings: SettingTrees): LanesSeries;
  /** What must be true of the quantities: elsewhere the motion itself is needed. */
  among?(settings: SettingTrees): readonly Tree[];
  /**
   * The physical columns, worked out where the engine has the readings, and nothing refused that `physical` would only
   * pass; null where these settings ask for more than that.
   *
   * @param series column of what the engine found
   * @param names  names for the physical columns, in their order
   */
  physical(settings: SettingTrees, series: string, names: readonly string[]): readonly RowStep[] | null;
  /** The readings of a run, as `observe` gives them without a random source, from what the engine found. */
  readings(series: Float64Array, settings: SettingValues, signal: SignalShape): Readings;
}

/**
 * A kind of instrument: how a signal becomes readings, and back.
 *
 * 1. `observe` without a random source gives what the instrument would show were its resolution and noise
 *    perfect; what it does always (rate, lag, marks, flag width, exposure, range, zero offset) is still there.
 * 2. With a random source the clock's steps, the resolution, noise, a person's reaction and the moment of the
 *    first sample are added; the same source gives the same readings.
 * 3. `physical` never looks at the source: real readings pass through it as simulated ones do. It keeps the
 *    order of rows, may leave rows out, and then says so in a note.
 */
export interface InstrumentKind {
  readonly kind: string;
  /** What it is, a sentence for the manual. */
  readonly what: string;
  readonly settings: readonly SettingSpec[];
  readonly signals: readonly SignalSpec[];
  /** The raw column that a file's column stands for where `reads` names only one. */
  readonly mainColumn: string;
  rawColumns(signal: SignalShape): readonly ColumnShape[];
  physicalColumns(signal: SignalShape): readonly ColumnShape[];
  observe(source: Source, settings: SettingValues, random: RandomSource | null): Outcome<Readings>;
  physical(readings: Readings, settings: SettingValues): Outcome<readonly Column[]>;
  /** Absent where a kind always needs the motion itself. */
  readonly onLanes?: LanesReading;
}
