import type { RandomSource } from './random-source.ts';
import { SOBOL_DIRECTIONS } from './sobol-directions.ts';

/** Points that fill the unit cube more evenly than random ones. */
export interface QuasiRandomPoints {
  /** The next point into `out`, one coordinate a dimension, each in (0, 1). At most 2³² of them. */
  next(out: Float64Array): void;
}

const BITS = 32;

/**
 * A Sobol sequence, scrambled: each point is uniform by itself, and averages over the first 2ᵐ points err far less
 * than those over random ones, for smooth functions almost as 1/N. Repeat with other streams to learn the error.
 *
 * @param dimension 1 or more; coordinates beyond the 64th are plain random numbers, so let the inputs that matter
 * most come first
 * Sources: Sobol, USSR Comput. Math. Math. Phys. 7 (1967) 86–112; Joe and Kuo 2008 (directions); Owen, SIAM J.
 * Numer. Anal. 34 (1997) 1884–1910 (scrambling), by hashing: Burley, J. Comput. Graph. Tech. 9 (2020) no. 4
 */
export function quasiRandomPoints(dimension: number, random: RandomSource): QuasiRandomPoints {
  if (!(Number.isInteger(dimension) && dimension >= 1))
    throw new RangeError(`${dimension} is no number of dimensions.`);
  const known = Math.min(dimension, SOBOL_DIRECTIONS.length + 1);
  const directions = Array.from({ length: known }, (_, d) => directionsOf(d));
  const seeds = Uint32Array.from({ length: known }, () => random.uniform() * 2 ** BITS);
  const state = new Uint32Array(known);
  let index = 0;
  return {
    next(out) {
      for (let d = 0; d < known; d += 1) out[d] = (scramble(state[d], seeds[d]) + 0.5) * 2 ** -BITS;
      for (let d = known; d < dimension; d += 1) out[d] = random.uniform() + 5.551115123125783e-17;
      // Gray-code order: the bit to change is that of the lowest zero of the index (Antonov and Saleev 1979).
      const bit = lowestZero(index);
      for (let d = 0; d < known; d += 1) state[d] ^= directions[d][bit];
      index += 1;
    },
  };
}

function directionsOf(dimension: number): Uint32Array {
  const directions = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let bit = 0; bit < BITS; bit += 1) directions[bit] = 2 ** (BITS - 1 - bit);
    return directions;
  }
  const [polynomial, first] = SOBOL_DIRECTIONS[dimension - 1];
  const degree = first.length;
  for (let bit = 0; bit < BITS; bit += 1) {
    if (bit < degree) {
      directions[bit] = first[bit] * 2 ** (BITS - 1 - bit);
      continue;
    }
    let direction = directions[bit - degree] ^ (directions[bit - degree] >>> degree);
    for (let term = 1; term < degree; term += 1)
      if ((polynomial >>> (degree - term)) & 1) direction ^= directions[bit - term];
    directions[bit] = direction;
  }
  return directions;
}

function lowestZero(index: number): number {
  const isolated = ~index & (index + 1);
  return isolated === 0 ? BITS - 1 : 31 - Math.clz32(isolated);
}

/** Owen's nested scrambling: each bit is flipped or not by a hash of the bits above it. */
function scramble(value: number, seed: number): number {
  let x = reverseBits(value);
  x = (x + seed) | 0;
  x ^= Math.imul(x, 0x6c50b47c);
  x ^= Math.imul(x, 0xb82f1e52);
  x ^= Math.imul(x, 0xc7afe638);
  x ^= Math.imul(x, 0x8d22f6e6);
  return reverseBits(x) >>> 0;
}

function reverseBits(value: number): number {
  let x = value;
  x = ((x >>> 1) & 0x55555555) | ((x & 0x55555555) << 1);
  x = ((x >>> 2) & 0x33333333) | ((x & 0x33333333) << 2);
  x = ((x >>> 4) & 0x0f0f0f0f) | ((x & 0x0f0f0f0f) << 4);
  x = ((x >>> 8) & 0x00ff00ff) | ((x & 0x00ff00ff) << 8);
  return (x >>> 16) | (x << 16);
}
