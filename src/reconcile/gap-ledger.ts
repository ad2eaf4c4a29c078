import type { LabResult } from '../lab/index.ts';
import type { Closing } from './closing.ts';
import type { Interval } from './judge-deviation.ts';
import type { Verdict } from './verdict.ts';

/** A number and its standard uncertainty, SI. */
export interface LedgerValue {
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface EffectShare {
  readonly effect: string;
  /** Mean contribution over every order of switching on, SI. */
  readonly share: number;
  readonly standardUncertainty: number;
  /** Standard error that is left where orders of switching on were drawn, not all taken; not in the uncertainty. */
  readonly orderError?: number;
}

export interface LedgerMeasured extends LedgerValue {
  readonly n: number;
  /** Part of the uncertainty that the runs' scatter brings, and the part that the quantities bring. */
  readonly fromScatter: number;
  readonly fromQuantities: number;
  /** Holds the true value with 95 %: the quantities by their own distributions, the scatter by Student's; null where nothing is uncertain. */
  readonly interval: Interval | null;
}

export interface LedgerRemainder extends LedgerValue {
  /** Remainder over its standard uncertainty. */
  readonly z: number;
  readonly degreesOfFreedom: number;
  /** Two-sided probability of a remainder at least as large by chance; NaN where no uncertainty is known. */
  readonly probability: number;
  readonly verdict: Verdict;
  /** What change of which quantity would close it, the most plausible first. */
  readonly closing: readonly Closing[];
}

/**
 * The gap ledger of one result in one group of runs.
 *
 * ideal + Σ share = full, and full + remainder = measured, exactly as the numbers stand here.
 */
export interface GapLedger {
  readonly result: LabResult;
  /** Label of the group's settings; null for a result across all runs. */
  readonly group: string | null;
  readonly theory: LedgerValue | null;
  /**
   * What steps of the reduction shift the ideal simulation by, in a rehearsal without noise: part of ideal − theory.
   * Only those above a tenth of the standard uncertainty of the measured value, or of the full model without one.
   */
  readonly reduction: readonly { readonly step: string; readonly shift: number }[];
  readonly ideal: LedgerValue;
  readonly effects: readonly EffectShare[];
  readonly full: LedgerValue;
  readonly measured: LedgerMeasured | null;
  readonly remainder: LedgerRemainder | null;
}

/** How the uncertainties of a ledger were found, and how the quicker way was checked. */
export interface LedgerMethod {
  readonly kind: 'second-order response' | 'draws of the model';
  readonly draws: number;
  /** Draws that left the model's domain and are not counted in. */
  readonly failed: number;
  /** Draws on which the quicker way was compared with the model itself, and the worst disagreement in u; 0 for none. */
  readonly checked: number;
  readonly worstDisagreement: number;
  /** In words, why this way was taken. */
  readonly because: string;
  /** Orders of switching on that the shares are means over: all k! of them, or as many as were drawn. */
  readonly orders: 'all' | number;
}

/** The lines of a ledger at the author's values, without their uncertainties. */
export interface LedgerOutline {
  readonly result: LabResult;
  readonly group: string | null;
  readonly theory: number | null;
  readonly ideal: number;
  readonly effects: readonly { readonly effect: string; readonly share: number }[];
  readonly full: number;
  readonly measured: number | null;
}

export interface Reconciliation {
  readonly ledgers: readonly GapLedger[];
  /** Index in `ledgers` of the ledger that speaks for each result: the lab's own settings where they were measured. */
  readonly main: ReadonlyMap<string, number>;
  readonly method: LedgerMethod;
}
