/** The share of a state's largest value so far below which its relative tolerance no longer counts. */
const smallShare = 1e-3;
/** Least absolute tolerance, SI: below it the rounding of usual terms would be taken for motion. */
const leastAbsolute = 1e-17;

/** The error that a step may make, state by state. */
export interface Tolerances {
  readonly relative: number;
  /** One a state, in its unit. */
  readonly absolute: Float64Array;
  /** True where the absolute tolerances follow the size of the states. */
  readonly follows: boolean;
}

/**
 * Tolerances for n states.
 *
 * Without a stated absolute tolerance each state has its own, a thousandth of the relative tolerance times its
 * largest value so far: so an answer does not depend on the units in which a state is small or large.
 */
export function createTolerances(relative: number, absolute: number | undefined, n: number): Tolerances {
  return {
    relative,
    absolute: new Float64Array(n).fill(absolute ?? leastAbsolute),
    follows: absolute === undefined,
  };
}

/** Lets the absolute tolerances follow a state that has grown. */
export function followState(tolerances: Tolerances, y: Float64Array): void {
  if (!tolerances.follows) return;
  const { absolute, relative } = tolerances;
  const share = smallShare * relative;
  for (let i = 0; i < absolute.length; i++) {
    const wanted = share * Math.abs(y[i]);
    if (wanted > absolute[i]) absolute[i] = wanted;
  }
}
