import { libraryFunction } from './elementary-library.ts';

/**
 * Elementary functions for the program's own reckoning. The functions of `Math` may differ in the last bit from one
 * JavaScript engine to the next; these are the same everywhere.
 */
type OfOne = (x: number) => number;

function ofOne(name: string): OfOne {
  let found: OfOne | undefined;
  return (x) => {
    found ??= libraryFunction(name);
    return found(x);
  };
}

export const exp: OfOne = ofOne('exp');
/** exp(x) − 1, exact near 0. */
export const expLessOne: OfOne = ofOne('expm1');
export const ln: OfOne = ofOne('ln');
/** ln(1 + x), exact near 0. */
export const lnOfOneMore: OfOne = ofOne('log1p');
export const log10: OfOne = ofOne('log10');
/** Of an angle in rad. */
export const sine: OfOne = ofOne('sin');
export const cosine: OfOne = ofOne('cos');
/** In rad. */
export const arcTangent: OfOne = ofOne('atan');
export const cubeRoot: OfOne = ofOne('cbrt');

/** Root of the sum of squares; no square overflows or vanishes. */
export function hypotenuse(...parts: readonly number[]): number {
  let largest = 0;
  for (const part of parts) largest = Math.max(largest, Math.abs(part));
  if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) return largest;
  const unit = largest > 1e-140 && largest < 1e140 ? 1 : 2 ** Math.max(-1000, exponentOf(largest));
  let sum = 0;
  for (const part of parts) sum += (part / unit) * (part / unit);
  return unit * Math.sqrt(sum);
}

const numbers = new Float64Array(1);
const words = new Uint32Array(numbers.buffer);
const isLittleEndian = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;

/** The whole e with 2ᵉ ≤ |x| < 2ᵉ⁺¹; −∞ for 0, +∞ for what is infinite, NaN for what is no number. */
export function exponentOf(x: number): number {
  if (x === 0) return Number.NEGATIVE_INFINITY;
  if (!Number.isFinite(x)) return Math.abs(x);
  numbers[0] = x;
  const exponent = (words[isLittleEndian ? 1 : 0] >>> 20) & 0x7ff;
  return exponent === 0 ? exponentOf(x * 2 ** 54) - 54 : exponent - 1023;
}

/** Beyond this a whole power is no longer a short product. */
const longestProduct = 64;

/** x to the power y: by products for small whole y, exact where they are; else as formulas have it. */
export function power(x: number, y: number): number {
  if (!(Number.isInteger(y) && Math.abs(y) <= longestProduct)) return generalPower(x, y);
  let product = 1;
  let square = x;
  for (let rest = Math.abs(y); rest > 0; rest = Math.floor(rest / 2)) {
    if (rest % 2 === 1) product *= square;
    square *= square;
  }
  return y < 0 ? 1 / product : product;
}

function generalPower(x: number, y: number): number {
  return libraryFunction('pow')(x, y);
}
