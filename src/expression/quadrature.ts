import { GAUSS_WEIGHTS, KRONROD_WEIGHTS, NODES } from './kronrod-nodes.ts';

/** Most evaluations of integrands in one call of a compiled function, all its integrals together. */
export const MAX_INTEGRAND_EVALUATIONS = 400_000;

const WANTED = 1e-12;
/** What is still given out where rounding or a singular point keeps the wanted accuracy out of reach. */
const TOLERATED = 1e-8;
const MOST_PIECES = 256;
const EPSILON = Number.EPSILON;

/** What the integrals of one compiled function share: the work that is left in this call. */
export interface WorkLeft {
  evaluations: number;
}

export type Integrator = (integrand: (s: number) => number, from: number, to: number) => number;

/**
 * An integrator with its own memory; one for each integral of a compiled function, so that nested ones do
 * not disturb each other.
 *
 * Adaptive bisection of the piece with the largest error, 21-point Gauss–Kronrod on each piece, until the
 * error estimate falls below 1e-12 of the integral, or of rounding. Where the bounds on pieces and on work are
 * reached first, the value is given if its estimated error is below 1e-8 of the integral of |f|; NaN elsewhere,
 * and NaN where the integrand is not finite or an end is not finite.
 * Source: R. Piessens et al., QUADPACK, Springer 1983, routine QAG (error estimate of QK21).
 */
export function makeIntegrator(work: WorkLeft): Integrator {
  const from = new Float64Array(MOST_PIECES);
  const to = new Float64Array(MOST_PIECES);
  const integrals = new Float64Array(MOST_PIECES);
  const errors = new Float64Array(MOST_PIECES);
  const sizes = new Float64Array(MOST_PIECES);
  const values = new Float64Array(2 * NODES.length);

  const measure = (piece: number, integrand: (s: number) => number): void => {
    const centre = 0.5 * (from[piece] + to[piece]);
    const half = 0.5 * (to[piece] - from[piece]);
    work.evaluations -= 2 * NODES.length - 1;
    const middle = integrand(centre);
    let kronrod = KRONROD_WEIGHTS[0] * middle;
    let gauss = 0;
    let size = KRONROD_WEIGHTS[0] * Math.abs(middle);
    for (let i = 1; i < NODES.length; i += 1) {
      const below = integrand(centre - half * NODES[i]);
      const above = integrand(centre + half * NODES[i]);
      values[2 * i] = below;
      values[2 * i + 1] = above;
      kronrod += KRONROD_WEIGHTS[i] * (below + above);
      gauss += GAUSS_WEIGHTS[i] * (below + above);
      size += KRONROD_WEIGHTS[i] * (Math.abs(below) + Math.abs(above));
    }
    const mean = 0.5 * kronrod;
    let spread = KRONROD_WEIGHTS[0] * Math.abs(middle - mean);
    for (let i = 1; i < NODES.length; i += 1) {
      spread += KRONROD_WEIGHTS[i] * (Math.abs(values[2 * i] - mean) + Math.abs(values[2 * i + 1] - mean));
    }
    const length = Math.abs(half);
    let error = Math.abs((kronrod - gauss) * half);
    spread *= length;
    size *= length;
    if (spread !== 0 && error !== 0) {
      const share = (200 * error) / spread;
      error = spread * Math.min(1, share * Math.sqrt(share));
    }
    integrals[piece] = kronrod * half;
    errors[piece] = error;
    sizes[piece] = size;
  };

  return (integrand, start, end) => {
    if (start === end) return 0;
    from[0] = start;
    to[0] = end;
    measure(0, integrand);
    let pieces = 1;
    for (;;) {
      let integral = 0;
      let error = 0;
      let size = 0;
      let worst = 0;
      for (let i = 0; i < pieces; i += 1) {
        integral += integrals[i];
        error += errors[i];
        size += sizes[i];
        if (errors[i] > errors[worst]) worst = i;
      }
      if (!Number.isFinite(integral) || !Number.isFinite(error)) return Number.NaN;
      if (error <= Math.max(WANTED * Math.abs(integral), 50 * EPSILON * size)) return integral;
      const middle = 0.5 * (from[worst] + to[worst]);
      const tooSmall =
        Math.abs(to[worst] - from[worst]) <=
        4 * EPSILON * Math.max(Math.abs(from[worst]), Math.abs(to[worst]));
      if (pieces === MOST_PIECES || work.evaluations <= 0 || tooSmall) {
        return error <= TOLERATED * size ? integral : Number.NaN;
      }
      from[pieces] = middle;
      to[pieces] = to[worst];
      to[worst] = middle;
      measure(worst, integrand);
      measure(pieces, integrand);
      pieces += 1;
    }
  };
}
