import type { Equation } from '../expression/index.ts';
import type { Outcome } from '../problem/index.ts';
import type { PreparedReduction } from '../reduction/index.ts';
import type { WrittenChange } from './change-forms.ts';
import type { Effect, Setting } from './effect-section.ts';
import type { LabInstrument } from './instrument-section.ts';
import type { Kit } from './kit-section.ts';
import type { LabModel } from './model-section.ts';
import type { QuantityValues } from './quantity-function.ts';
import type { Quantities, Quantity } from './quantity-section.ts';
import type { Reduction } from './reduction-section.ts';
import type { LabResult } from './result-section.ts';
import type { Slip } from './slip-section.ts';
import type { StatedSetting } from './stated-settings.ts';
import type { Stations } from './station-section.ts';
import type { Tables } from './table-section.ts';
import type { TrialEntry } from './trial-section.ts';
import type { WrittenParts } from './written-parts.ts';

/** One line of the derivation: an equation, why it holds, and how far it may be off where it is an approximation. */
export interface DerivationLine {
  readonly text: string;
  readonly because: string;
  readonly equation: Equation;
  /** Largest relative difference of the two sides; 0 for a line that is exact. */
  readonly within: number;
}

/** The runs that the lab asks for: every combination of the settings, each repeated. */
export interface Plan {
  readonly settings: readonly (readonly Setting[])[];
  readonly repeats: number;
}

/** One of the models that the trials choose among: what it says of some quantities; all others are the lab's own. */
export interface RivalModel {
  readonly name: string;
  readonly is: string;
  /** A value without an uncertainty holds exactly. */
  readonly set: readonly StatedSetting[];
}

/** Which quantities the trials may correct, and which numbers of each run they are fitted to. */
export interface InferPlan {
  readonly free: readonly string[];
  readonly using: readonly string[];
  /** Two at least, or none. */
  readonly models: readonly RivalModel[];
}

/** A correlation between two base quantities, −1 to 1. */
export interface Correlation {
  readonly between: readonly [number, number];
  readonly is: number;
}

/** A lab, read and checked: everything that the pipeline needs, nothing of how it was written. */
export interface Lab {
  readonly file: string;
  readonly title: string;
  readonly question: string;
  readonly quantities: Quantities;
  readonly correlations: readonly Correlation[];
  readonly tables: Tables;
  /** Fills in the derived quantities of a vector whose base quantities are set. */
  readonly derive: (values: QuantityValues) => void;
  readonly effects: readonly Effect[];
  /**
   * Indices of the base quantities that the model, the instruments or the reduction read, directly or through computed
   * ones: no other can move a predicted or a measured result.
   */
  readonly influential: ReadonlySet<number>;
  /**
   * Quantities that may differ from run to run: those that the plan or a trial sets, and those computed from them.
   * The steps across runs see them as columns.
   */
  readonly varied: readonly Quantity[];
  readonly model: LabModel;
  readonly instruments: readonly LabInstrument[];
  readonly eachRun: PreparedReduction;
  readonly acrossRuns: PreparedReduction;
  readonly results: readonly LabResult[];
  readonly derivation: readonly DerivationLine[];
  readonly plan: Plan;
  readonly infer: InferPlan;
  readonly trials: readonly TrialEntry[];
  readonly cautions: readonly string[];
  readonly kits: readonly Kit[];
  readonly stations: Stations;
  readonly slips: readonly Slip[];
  /** Steps and instruments in the author's own writing. */
  readonly written: WrittenParts;
  /**
   * The lab with other equipment: a lab of its own, with the kits' values, instruments and steps in place, and
   * without real runs. Fails where the kits break it.
   */
  equip(kits: readonly Kit[]): Outcome<Lab>;
  /**
   * The reduction as somebody takes it who enters other settings of instruments, or takes other steps.
   *
   * @param words what messages about the change name as their place
   */
  tell(change: WrittenChange, words: string): Outcome<Reduction>;
}
