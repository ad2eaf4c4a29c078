import type { KnownMotion } from './known-motion.ts';
import type { RunState } from './state.ts';

/** A column as it would be at any times of the motion, in place of those of the readings. */
export type TrueColumn = (times: Float64Array) => Float64Array;

/** A stretch of time, from and to, s. */
export type Span = readonly [number, number];

/** Rows whose readings could have been taken at any time: the truth that their columns stand for. */
export interface TrueRows {
  /** Name of the column that has the time of each row. */
  readonly time: string;
  /** Stretches of time, from and to (s), in which there are rows; only found where a step asks. */
  readonly spans: () => readonly Span[];
  readonly columns: ReadonlyMap<string, TrueColumn>;
}

/**
 * What is true of a simulated run, as far as its steps have come: for each column the motion behind it.
 *
 * Steps put the truth in the place of what they gave and leave here what later ones need.
 */
export interface TrueRun {
  readonly motion: KnownMotion;
  /** By the name of a column. */
  readonly rows: Map<string, TrueRows>;
}

/** How what a step gives is had where the motion itself is known. */
export interface ExactStep {
  /** False for a step that is exact as it is and only has to hand on what is true: it has no shift of its own. */
  readonly canShift: boolean;
  /** Called after the step's own run; what it cannot put right stays as it is. */
  put(state: RunState, truth: TrueRun, quantities: Float64Array): void;
}
