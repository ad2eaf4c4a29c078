import type { Tolerances } from './tolerances.ts';

/** Most numbers a state needs for one piece of a motion (see `evaluatePiece`). */
export const largestPieceTerms = 8;

/**
 * A one-step method: from a state, a step, its error, and the motion inside the step.
 *
 * 1. `begin` fixes the start of the next step; `attempt` tries a length and may be repeated.
 * 2. After an attempt, `end` is the new state and `endRates` its rates.
 * 3. `writePiece` describes the motion inside the last attempted step; `advance` makes its end the next start.
 * 4. A method keeps nothing of a motion that `begin` does not reset.
 */
export interface StepMethod {
  readonly name: string;
  readonly startRates: Float64Array;
  readonly end: Float64Array;
  readonly endRates: Float64Array;
  begin(t: number, y: Float64Array, tolerances: Tolerances): void;
  /** @returns the error over what is allowed (≤ 1 is good), or NaN where something was not finite */
  attempt(h: number): number;
  /** @returns how many numbers a state were written, at most `largestPieceTerms` */
  writePiece(piece: Float64Array): number;
  advance(): void;
  /** The next length to try, after an attempt of length `h` whose error was `error`. */
  proposeStep(h: number, error: number, accepted: boolean): number;
  /** Whether the other family of methods would do better from here on. */
  wantsChange(h: number): boolean;
}
