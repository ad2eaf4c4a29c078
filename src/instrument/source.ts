import type { Dimension } from '../quantity/index.ts';

/**
 * What an instrument is pointed at while a motion runs: one signal of it, in SI.
 *
 * `breaks` are the times, within the motion, at which the signal may jump or bend; between two breaks it is
 * smooth. `valueAt` gives the value after a break, `valueBefore` the value before it.
 */
export interface MotionSource {
  readonly kind: 'motion';
  readonly startS: number;
  readonly endS: number;
  readonly breaks: Float64Array;
  readonly dimension: Dimension;
  valueAt(t: number): number;
  valueBefore(t: number): number;
}

/** What an instrument is pointed at in a lab without time: the values of a relation, one for each setting. */
export interface PointsSource {
  readonly kind: 'points';
  readonly values: Float64Array;
  readonly dimension: Dimension;
  readonly against: { readonly name: string; readonly values: Float64Array; readonly dimension: Dimension };
}

/** The margin of a condition: at least 0 exactly where the condition is true. */
export interface Margin {
  valueAt(t: number): number;
  valueBefore(t: number): number;
}

/**
 * What a person with a stopwatch waits for: `from` and `to`, each the margin of a condition.
 *
 * Null stands for the start of the motion (`from`) and its end (`to`).
 */
export interface EventsSource {
  readonly kind: 'events';
  readonly startS: number;
  readonly endS: number;
  readonly breaks: Float64Array;
  readonly from: Margin | null;
  readonly to: Margin | null;
}

export type Source = MotionSource | PointsSource | EventsSource;
