import type { Tree } from '../expression/index.ts';

/**
 * A number of each draw: the same for all, from a column of the draw's row (parameters first, then extra columns), or
 * an expression of parameters.
 */
export type PerDraw = number | { readonly column: number } | { readonly tree: Tree };

/**
 * What is wanted of each trajectory besides its end.
 *
 * - `crossings`: times (s) at which a signal, counted from its value at the start, passes (k − `offset`) spacings,
 *   k = 1, 2 …, and, turning back, k = 0, −1 …: what a gate sees of a turning wheel's marks.
 * - `samples`: values of a signal at `start`, `start` + `interval` … (s), to the end of the motion; with `over`, each the
 *   mean over so long from then on (s, not longer than the interval), unless the end cuts it off. Where the equations
 *   change their branch meanwhile, the draw is for the general evolution.
 * - `passages`: times (s) at which a signal rises through levels that do not fall, each once and in their order. A draw
 *   that begins at the first or beyond, or falls back through one that it has passed, is for the general evolution.
 *
 * `most` bounds how many of them one draw may have.
 */
export type Asked =
  | {
      readonly kind: 'crossings';
      readonly signal: number;
      readonly spacing: PerDraw;
      readonly offset: PerDraw;
      readonly most: number;
    }
  | {
      readonly kind: 'samples';
      readonly signal: number;
      readonly start: PerDraw;
      readonly interval: PerDraw;
      readonly over?: PerDraw;
      readonly most: number;
    }
  | {
      readonly kind: 'passages';
      readonly signal: number;
      readonly levels: readonly PerDraw[];
      readonly most: number;
    };

/**
 * How a draw fared. Whatever is not `ok` is for the general evolution, which follows it or says what is wrong:
 *
 * - `general`: friction stuck, a branch could not be decided by the short rule, a stop was true at the start, or one of
 *   the conditions that `among` makes is not true
 * - `budget`: too many steps, too small a step, too long a time, more readings than `most`
 * - `notFinite`: a start, rate or setting is not a finite number
 */
export const drawStatus = { ok: 0, general: 1, budget: 2, notFinite: 3 } as const;

/** Results of n draws; what belongs to a draw that is not `ok` means nothing. */
export interface BatchResult {
  /**
   * n: 1 where the row program gave its scalars, else 0. Of a draw that is reduced only the status, the end of the
   * motion and the scalars are kept.
   */
  readonly reduced: Uint8Array;
  /** n × the scalars that the row program gives. */
  readonly scalars: Float64Array;
  /** n, see `drawStatus`. */
  readonly status: Uint8Array;
  /** n times at which the motion ended, s. */
  readonly endS: Float64Array;
  /** n indices of the stop that ended the motion; −1 where its time ran out. */
  readonly stop: Int32Array;
  /** n × states. */
  readonly endState: Float64Array;
  /** n × conditions: when each `holds while` first failed, s; NaN where it held. */
  readonly failedAt: Float64Array;
  /** n × conditions × states. */
  readonly failedState: Float64Array;
  /** One for each thing asked: n counts, and n × `most` times (s) or values (SI). */
  readonly series: readonly { readonly count: Int32Array; readonly values: Float64Array }[];
}
