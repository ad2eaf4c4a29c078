import { arcTangent, cubeRoot, exp, ln } from '../wasm/index.ts';
import {
  add,
  type DoubleDouble,
  divide,
  extend,
  multiply,
  negate,
  squareRoot,
  subtract,
} from './double-double.ts';

// Elementary functions of double-double numbers, to about 30 digits. Arguments are reduced with constants of 32
// digits, summed as power series, and inverse functions corrected by one Newton step from the plain value
// (Hida, Li, Bailey, Proc. 15th IEEE Symp. Computer Arithmetic, 2001).

const ONE = extend(1);
const LN_TWO: DoubleDouble = { high: Math.LN2, low: 2.3190468138462996e-17 };
const LN_TEN: DoubleDouble = { high: Math.LN10, low: -2.1707562233822494e-16 };
/** π to 32 digits. */
export const EXTENDED_PI: DoubleDouble = { high: Math.PI, low: 1.2246467991473532e-16 };
const HALF_PI: DoubleDouble = { high: Math.PI / 2, low: 6.123233995736766e-17 };

const HALVINGS = 9;

/** eˣ. */
export function extendedExp(x: DoubleDouble): DoubleDouble {
  if (!(Math.abs(x.high) < 709)) return extend(exp(x.high));
  const k = Math.round(x.high / Math.LN2);
  const r = scale(subtract(x, multiply(LN_TWO, extend(k))), 2 ** -HALVINGS);
  // eʳ − 1 by its series, then doubled nine times: (1 + s)² − 1 = 2s + s².
  let term = r;
  let s = r;
  for (let n = 2; n < 14; n += 1) {
    term = divide(multiply(term, r), extend(n));
    s = add(s, term);
  }
  for (let doubling = 0; doubling < HALVINGS; doubling += 1) s = add(scale(s, 2), multiply(s, s));
  const value = add(s, ONE);
  return { high: value.high * 2 ** k, low: value.low * 2 ** k };
}

/** Natural logarithm; NaN below 0, −Infinity at 0. */
export function extendedLog(x: DoubleDouble): DoubleDouble {
  const guess = ln(x.high);
  if (!Number.isFinite(guess)) return extend(guess);
  const rest = subtract(multiply(x, extendedExp(extend(-guess))), ONE);
  return add(extend(guess), subtract(rest, scale(multiply(rest, rest), 0.5)));
}

export function extendedLog10(x: DoubleDouble): DoubleDouble {
  return divide(extendedLog(x), LN_TEN);
}

/** xʸ: by multiplication for whole y up to 1024, else by logarithm, NaN for negative x. */
export function extendedPower(x: DoubleDouble, y: DoubleDouble): DoubleDouble {
  if (y.low === 0 && Number.isInteger(y.high) && Math.abs(y.high) <= 1024) {
    let product = ONE;
    let square = x;
    for (let rest = Math.abs(y.high); rest > 0; rest = Math.floor(rest / 2)) {
      if (rest % 2 === 1) product = multiply(product, square);
      square = multiply(square, square);
    }
    return y.high < 0 ? divide(ONE, product) : product;
  }
  if (y.high === 0.5 && y.low === 0) return squareRoot(x);
  if (x.high === 0) return extend(0 ** y.high);
  return extendedExp(multiply(y, extendedLog(x)));
}

/** Sine and cosine of an angle in radians; full accuracy for angles up to some thousand turns. */
export function extendedSinCos(x: DoubleDouble): { readonly sin: DoubleDouble; readonly cos: DoubleDouble } {
  const quarter = Math.round(x.high / HALF_PI.high);
  const r = subtract(x, multiply(HALF_PI, extend(quarter)));
  const square = multiply(r, r);
  let sin = r;
  let cos = ONE;
  let term = r;
  let even = ONE;
  for (let n = 2; n < 28; n += 2) {
    even = negate(divide(multiply(even, square), extend((n - 1) * n)));
    cos = add(cos, even);
    term = negate(divide(multiply(term, square), extend(n * (n + 1))));
    sin = add(sin, term);
  }
  switch (((quarter % 4) + 4) % 4) {
    case 0:
      return { sin, cos };
    case 1:
      return { sin: cos, cos: negate(sin) };
    case 2:
      return { sin: negate(sin), cos: negate(cos) };
    default:
      return { sin: negate(cos), cos: sin };
  }
}

/** Angle whose tangent is x, in radians. */
export function extendedAtan(x: DoubleDouble): DoubleDouble {
  const guess = arcTangent(x.high);
  if (Math.abs(x.high) > 1e15) return subtract(scale(HALF_PI, Math.sign(x.high)), divide(ONE, x));
  const { sin, cos } = extendedSinCos(extend(guess));
  const rest = divide(subtract(multiply(x, cos), sin), add(cos, multiply(x, sin)));
  return add(extend(guess), rest);
}

/** Angle whose sine is x, in radians; NaN outside −1 to 1. */
export function extendedAsin(x: DoubleDouble): DoubleDouble {
  const rest = subtract(ONE, multiply(x, x));
  if (rest.high === 0) return scale(HALF_PI, Math.sign(x.high));
  return extendedAtan(divide(x, squareRoot(rest)));
}

/** Angle whose cosine is x, in radians; NaN outside −1 to 1. */
export function extendedAcos(x: DoubleDouble): DoubleDouble {
  return subtract(HALF_PI, extendedAsin(x));
}

/** Hyperbolic sine and cosine. */
export function extendedSinhCosh(x: DoubleDouble): {
  readonly sinh: DoubleDouble;
  readonly cosh: DoubleDouble;
} {
  const up = extendedExp(x);
  const down = divide(ONE, up);
  const cosh = scale(add(up, down), 0.5);
  if (Math.abs(x.high) > 0.5) return { sinh: scale(subtract(up, down), 0.5), cosh };
  const square = multiply(x, x);
  let term = x;
  let sinh = x;
  for (let n = 2; n < 28; n += 2) {
    term = divide(multiply(term, square), extend(n * (n + 1)));
    sinh = add(sinh, term);
  }
  return { sinh, cosh };
}

/** Cube root, of either sign. */
export function extendedCubeRoot(x: DoubleDouble): DoubleDouble {
  const guess = cubeRoot(x.high);
  if (guess === 0 || !Number.isFinite(guess)) return extend(guess);
  const root = extend(guess);
  const rest = subtract(multiply(multiply(root, root), root), x);
  return subtract(root, divide(rest, extend(3 * guess * guess)));
}

function scale(x: DoubleDouble, factor: number): DoubleDouble {
  return { high: x.high * factor, low: x.low * factor };
}
