/**
 * Angles so large that their turns cannot be taken away in double precision.
 *
 * A double is a whole number times a power of two, so enough digits of 2/π give its quarter turns exactly enough.
 * Source: M. Payne and R. Hanek 1983, SIGNUM Newsletter 18, 19, doi:10.1145/1057600.1057602
 */

/** The angle left, |r| ≤ π/4 (rad), and the quarter turns taken away, modulo 4. */
export interface NearAngle {
  readonly r: number;
  readonly quarters: number;
}

/** Binary places of 2/π: 1024 for the largest double, 53 for the result, 62 that may cancel, and some to spare. */
const places = 1280n;
/** Binary places that the angle left is worked out with. */
const keptPlaces = 192n;
const spare = 32n;

interface Constants {
  /** π/2 times 2^`keptPlaces`. */
  readonly quarterTurn: bigint;
  /** 2/π times 2^`places`. */
  readonly quarterTurns: bigint;
}

let constants: Constants | undefined;

/** π by Machin's formula, π/4 = 4 arctan 1/5 − arctan 1/239. */
function findConstants(): Constants {
  if (constants !== undefined) return constants;
  const scale = places + spare;
  const pi = 4n * (4n * arcTangentOfInverse(5n, scale) - arcTangentOfInverse(239n, scale));
  constants = {
    quarterTurn: pi >> (1n + scale - keptPlaces),
    quarterTurns: (1n << (1n + scale + places)) / pi,
  };
  return constants;
}

/** arctan(1/n) times 2^scale, by its power series in whole numbers. */
function arcTangentOfInverse(n: bigint, scale: bigint): bigint {
  let power = (1n << scale) / n;
  let sum = power;
  for (let k = 3n; power !== 0n; k += 2n) {
    power /= -n * n;
    sum += power / k;
  }
  return sum;
}

const number = new Float64Array(1);
const pattern = new BigUint64Array(number.buffer);

/**
 * Takes whole quarter turns from an angle.
 *
 * @param angle rad, finite, |angle| > 1
 * @returns the angle left to half a unit in the last place, and its quarter
 */
export function takeQuarters(angle: number): NearAngle {
  const { quarterTurn, quarterTurns } = findConstants();
  number[0] = Math.abs(angle);
  const exponent = (pattern[0] >> 52n) - 1075n;
  const whole = (pattern[0] & ((1n << 52n) - 1n)) | (1n << 52n);
  const turns = whole * quarterTurns;
  const scale = places - exponent;
  const quarters = (turns + (1n << (scale - 1n))) >> scale;
  const left = (turns - (quarters << scale)) >> (scale - keptPlaces);
  const size = Number(left * quarterTurn) * 2 ** -384;
  return angle < 0
    ? { r: -size, quarters: Number(-quarters & 3n) }
    : { r: size, quarters: Number(quarters & 3n) };
}
