/** An explicit Runge–Kutta method as students meet it: where stages stand, what they are built from, weights. */
export interface Tableau {
  readonly places: readonly number[];
  /** Row s: what the stages before s give to stage s. */
  readonly stages: readonly (readonly number[])[];
  readonly weights: readonly number[];
}

/**
 * Source: E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.1
 */
export const tableaus = {
  'forward-euler': { places: [0], stages: [[]], weights: [1] },
  midpoint: { places: [0, 0.5], stages: [[], [0.5]], weights: [0, 1] },
  'fourth-order': {
    places: [0, 0.5, 0.5, 1],
    stages: [[], [0.5], [0, 0.5], [0, 0, 1]],
    weights: [1 / 6, 1 / 3, 1 / 3, 1 / 6],
  },
} as const satisfies Record<string, Tableau>;
