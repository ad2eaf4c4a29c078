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
  readonly method?: 'automatic' | 'explicit' | 'implicit';
  /** Looked at once a step; the evolution ends with a problem where it says so. */
  readonly signal?: { readonly aborted: boolean };
}

export const defaultRelativeTolerance = 1e-9;
export const defaultMaxSteps = 200_000;
export const defaultMaxTimeS = 1e6;
