import type { RandomSource } from './random-source.ts';

/** Points that fill the unit cube more evenly than random ones. */
export interface QuasiRandomPoints {
  /** The next point into `out`, one coordinate a dimension, each in (0, 1). */
  next(out: Float64Array): void;
}

/**
 * A Kronecker sequence with a random shift: point n is n·α + shift, modulo 1, with αⱼ = g^(−j) and g the root of
 * g^(d+1) = g + 1. Averages over it err by about 1/N where random draws err by 1/√N, for smooth functions of a
 * dozen variables or fewer; repeat with several shifts to learn the error.
 *
 * @param dimension number of coordinates, 1 or more
 * Sources: Niederreiter, Random Number Generation and Quasi-Monte Carlo Methods, 1992 (Kronecker sequences);
 * Cranley and Patterson, SIAM J. Numer. Anal. 13 (1976) 904–914 (random shift); the choice of α generalises the
 * golden ratio (M. Roberts, 2018, common practice)
 */
export function quasiRandomPoints(dimension: number, random: RandomSource): QuasiRandomPoints {
  if (!(Number.isInteger(dimension) && dimension >= 1))
    throw new RangeError(`${dimension} is no number of dimensions.`);
  let root = 1.5;
  for (let round = 0; round < 60; round += 1) root = (1 + root) ** (1 / (dimension + 1));
  const steps = Float64Array.from({ length: dimension }, (_, j) => root ** -(j + 1));
  const at = Float64Array.from({ length: dimension }, () => random.uniform());
  return {
    next(out) {
      for (let j = 0; j < dimension; j += 1) {
        // An exact 0 or 1 would be an infinite normal score.
        out[j] = Math.min(1 - 1.1102230246251565e-16, Math.max(1.1102230246251565e-16, at[j]));
        at[j] += steps[j];
        if (at[j] >= 1) at[j] -= 1;
      }
    },
  };
}
