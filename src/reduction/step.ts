import type { RowStep } from '../engine/index.ts';
import type { Table } from '../expression/index.ts';
import type { InstrumentKind, SettingTrees, SettingValues, SignalShape } from '../instrument/index.ts';
import type { Origin, Outcome, Place } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import type { ExactStep } from './exact-step.ts';
import type { RunState } from './state.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

type SettingPath = readonly (string | number)[];

/** The settings of one step as the lab file has them, with the place of each. */
export interface GivenSettings {
  /** The mapping after the step's name, as plain data. */
  readonly values: Readonly<Record<string, unknown>>;
  /** What messages call the window of a step that the program makes, in place of its settings. */
  readonly words?: string;
  /** Paths are within the mapping: ['gives', 1]; the empty path is the step itself. */
  placeOf(path: SettingPath): Place;
  placeOfKey(path: SettingPath): Place;
  originOf(path: SettingPath): Origin;
}

/** An instrument of the lab whose readings steps may take. */
export interface InstrumentAtHand {
  readonly kind: InstrumentKind;
  readonly shape: SignalShape;
  settings(quantities: Float64Array): SettingValues;
  /** The settings as expressions of quantities, for what is worked out where the batch engine has the readings. */
  readonly settingTrees?: SettingTrees;
  readonly quantitiesRead: ReadonlySet<string>;
}

/** Rows that belong together: columns of different sets of rows cannot stand in one expression. */
export interface RowSet {
  /** In words: '"motion from edges" of wheel gate'. */
  readonly words: string;
  /** Conditions of the windows that rows had to pass, as written. */
  readonly windows: readonly string[];
}

/** What is known when a step is made ready: names, dimensions, rows. */
export interface ReductionContext {
  /** Symbols of the quantities, in the order of the vector of their values. */
  readonly quantities: readonly string[];
  dimensionOfQuantity(name: string): Dimension | undefined;
  readonly tables?: ReadonlyMap<string, Table>;
  readonly instruments: ReadonlyMap<string, InstrumentAtHand>;
  readonly columns: ReadonlyMap<string, { readonly dimension: Dimension; readonly rows: RowSet }>;
  readonly scalars: ReadonlyMap<string, Dimension>;
  /** Names that a step with a problem would have given: nothing more is said of them. */
  readonly unsure: ReadonlySet<string>;
}

/** What a step leaves behind for later ones. */
export interface StepGives {
  readonly columns: readonly {
    readonly name: string;
    readonly dimension: Dimension;
    readonly rows: RowSet;
  }[];
  readonly scalars: readonly { readonly name: string; readonly dimension: Dimension }[];
  /** A set of rows that the step thinned out, and what it is called from then on. */
  readonly replacesRows?: { readonly before: RowSet; readonly after: RowSet };
}

/** A step whose settings are checked and whose expressions are compiled. */
export interface PreparedStep {
  readonly name: string;
  /** In words, for messages: 'line of v² against x²'. */
  readonly words: string;
  readonly gives: StepGives;
  /** Quantities whose values the step needs: a change of others cannot change what it gives. */
  readonly quantitiesRead: ReadonlySet<string>;
  /** Whether what it gives depends on uncertainties of scalars, which lean runs leave out. */
  readonly readsUncertainties: boolean;
  /**
   * The same where the batch engine has the readings and only values are wanted, for columns and scalars of the names
   * that the lab gives them. Absent where the step has no such form.
   */
  readonly onRows?: readonly RowStep[];
  /** Absent where the true value of what it gives is not known from the motion, as that of a fitted law. */
  readonly exact?: ExactStep;
  /** Works on a run; what it gives is added to the run, or a problem says why it cannot be. */
  run(state: RunState, quantities: Float64Array): Outcome<void>;
}

/** A kind of step. */
export interface ReductionStep {
  /** As in the lab file: 'motion from edges'. */
  readonly name: string;
  /** What it does, a sentence or two for the manual. */
  readonly what: string;
  readonly settings: readonly StepSettingSpec[];
  prepare(given: GivenSettings, context: ReductionContext): Outcome<PreparedStep>;
}
