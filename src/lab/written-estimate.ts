import type { Estimate, Unit } from '../quantity/index.ts';

/** What a quantity's entry says of its value: the estimate, the unit it is written in, and where it is from. */
export interface WrittenEstimate {
  readonly estimate: Estimate;
  /** How far single runs lie from the value, around 0; null where all runs have the same. */
  readonly eachRun: Estimate | null;
  readonly unit: Unit;
  readonly from: string;
}
