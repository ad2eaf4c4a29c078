const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const SQRT_HALF = Math.SQRT1_2;
const word = new DataView(new ArrayBuffer(8));

/**
 * Natural logarithm of a positive finite x, from additions, multiplications and divisions alone.
 *
 * `Math.log` may differ in the last bit between engines; random draws must not. Error below 1 ulp or so.
 * Method: x = 2ᵏ·m with m near 1, log m = 2·artanh((m − 1)/(m + 1)) as a power series; ln 2 in two parts,
 * the first with trailing zeros so that k·ln 2 is exact (Cody and Waite, Software Manual for the Elementary
 * Functions, 1980).
 */
export function portableLog(x: number): number {
  let exponent = 0;
  let scaled = x;
  if (scaled < 2.2250738585072014e-308) {
    scaled *= 18014398509481984; // 2^54
    exponent -= 54;
  }
  word.setFloat64(0, scaled);
  const high = word.getUint32(0);
  exponent += (high >>> 20) - 1022;
  word.setUint32(0, (high & 0x000fffff) | 0x3fe00000);
  let mantissa = word.getFloat64(0); // in [0.5, 1)
  if (mantissa < SQRT_HALF) {
    mantissa *= 2;
    exponent -= 1;
  }
  const f = mantissa - 1;
  const s = f / (2 + f);
  const z = s * s;
  const series =
    z *
    (2 / 3 +
      z *
        (2 / 5 +
          z *
            (2 / 7 +
              z *
                (2 / 9 +
                  z * (2 / 11 + z * (2 / 13 + z * (2 / 15 + z * (2 / 17 + z * (2 / 19 + (z * 2) / 21)))))))));
  // log(1+f) = f − f²/2 + s·(f²/2 + series): the large parts are exact, so no bits are lost.
  const halfSquare = 0.5 * f * f;
  return exponent * LN2_HIGH - (halfSquare - (s * (halfSquare + series) + exponent * LN2_LOW) - f);
}
