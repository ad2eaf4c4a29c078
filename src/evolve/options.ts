/** How an evolution is done; every entry has a default. */
export interface EvolutionOptions {
  /** Error allowed in a step, of each state's size. Default 1e-9. */
  readonly relativeTolerance?: number;
  /** Error allowed in a step where a state is small, SI; default: follows the size of each state. */
  readonly absoluteTolerance?: number;
  /** Steps that may be tried. Default 200 000. */
  readonly maxSteps?: number;
  /** Time of the motion (not of the computer), s, within which a stop must come. Default 1e6. */
  readonly maxTimeS?: number;
  /**
   * Longest step, s. Default: none where the model does not look at the time; a fiftieth of the duration where it
   * does, or a quarter of the time so far where only stops end it. What acts for less than a longest step may be
   * missed where nothing else moves.
   */
  readonly maxStepS?: number;
  readonly method?: 'automatic' | 'explicit' | 'implicit';
  /** Looked at once a step; the evolution ends with a problem where it says so. */
  readonly signal?: { readonly aborted: boolean };
}

export const defaultRelativeTolerance = 1e-9;
export const defaultMaxSteps = 200_000;
export const defaultMaxTimeS = 1e6;

/** Longest step of a model that looks at the time, as a share of its duration, or of the time so far. */
export const longestShareOfDuration = 1 / 50;
export const longestShareSoFar = 1 / 4;
