import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';
import { normalQuantile } from './normal-quantile.ts';

/** A stream of random numbers that is the same for the same seed, on every machine and in every version. */
export interface RandomSource {
  /** Uniform in [0, 1), a multiple of 2⁻⁵³. */
  uniform(): number;
  /** Standard normal; takes exactly one uniform number from the stream. */
  normal(): number;
  /**
   * An independent stream, fixed by the seed and the labels on the way to it: it does not depend on how many
   * numbers have been drawn, so adding a draw in one place moves nothing elsewhere.
   */
  fork(label: number): RandomSource;
}

/**
 * A reproducible source of random numbers.
 *
 * @param seed any finite number; two seeds that differ in any bit give unrelated streams
 * Uniform numbers: xoroshiro128+ (Blackman and Vigna, ACM Trans. Math. Softw. 47 (2021) 36).
 * Normal numbers: inversion of the distribution function (Wichura, AS 241), so that a change of a setting
 * moves every draw smoothly and common random draws stay common.
 */
export function randomSource(seed: number): RandomSource {
  if (!Number.isFinite(seed)) throw new RangeError(`A seed must be a finite number; found ${seed}.`);
  const bits = new DataView(new ArrayBuffer(8));
  bits.setFloat64(0, seed);
  return sourceFrom(absorb(absorb(START, bits.getInt32(0)), bits.getInt32(4)));
}

type State = readonly [number, number, number, number];

// Four 32-bit words of the fractional part of π, the customary "nothing up my sleeve" start.
const START: State = [0x243f6a88, 0x85a308d3 | 0, 0x13198a2e, 0x03707344];

function sourceFrom(state: State): RandomSource {
  const generator = xoroshiro128plusFromState(state);
  return {
    uniform: () => uniformFloat64(generator),
    // Half a step away from 0: a quantile of exactly 0 would be minus infinity.
    normal: () => normalQuantile(uniformFloat64(generator) + 5.551115123125783e-17),
    fork(label) {
      const bits = new DataView(new ArrayBuffer(8));
      bits.setFloat64(0, label);
      return sourceFrom(absorb(absorb(state, bits.getInt32(0)), bits.getInt32(4)));
    },
  };
}

/** Mixes a word into 128 bits of state so that every bit of either reaches every bit of the result. */
function absorb(state: State, wordIn: number): State {
  let [a, b, c, d] = state;
  a ^= wordIn;
  for (let round = 0; round < 6; round += 1) {
    a = scramble((a + 0x9e3779b9) | 0) ^ d;
    b = (scramble(b ^ a) + c) | 0;
    c = scramble((c + b) | 0) ^ a;
    d = (scramble(d ^ c) + b) | 0;
  }
  return [a, b, c, d];
}

/** Finalizer of MurmurHash3 (Appleby, public domain): a bijection of 32-bit words. */
function scramble(wordIn: number): number {
  let h = wordIn;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
