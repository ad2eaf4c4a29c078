/** Where the border of stability of the order-8 pair lies, as step times largest eigenvalue. */
const borderOfStability = 6.1;
/** So many steps at the border mean stiffness; so many in a row away from it clear the suspicion. */
const enough = 15;
const clear = 6;

/** Counts steps whose length seems held down by stability rather than by accuracy. */
export interface StiffnessWatch {
  suspicious: number;
  innocent: number;
}

export function createStiffnessWatch(): StiffnessWatch {
  return { suspicious: 0, innocent: 0 };
}

export function resetStiffnessWatch(watch: StiffnessWatch): void {
  watch.suspicious = 0;
  watch.innocent = 0;
}

/**
 * Takes one accepted step into account.
 *
 * @param product the step times an estimate of the largest eigenvalue, from two evaluations at the step's end
 * @returns true once the problem is taken for stiff
 * Source: Hairer, Wanner, Solving Ordinary Differential Equations II, 2nd ed. (Springer 1996), IV.2
 */
export function noteStiffness(watch: StiffnessWatch, product: number): boolean {
  if (product > borderOfStability) {
    watch.innocent = 0;
    watch.suspicious++;
    return watch.suspicious >= enough;
  }
  watch.innocent++;
  if (watch.innocent >= clear) watch.suspicious = 0;
  return false;
}
