import { angleOf, arcCosine, arcSine, arcTangent, cosine, sine, tangent } from './elementary-angle.ts';
import {
  cubeRoot,
  decimalLogarithm,
  exponential,
  exponentialMinusOne,
  generalPower,
  hyperbolicCosine,
  hyperbolicSine,
  hyperbolicTangent,
  inverseHyperbolicCosine,
  inverseHyperbolicSine,
  inverseHyperbolicTangent,
  logarithmOfOneMore,
  naturalLogarithm,
} from './elementary-exponential.ts';
import { isNumber } from './elementary-numbers.ts';
import { type Graph, isConstant, type Node } from './graph.ts';

type Written = (g: Graph, parts: readonly Node[]) => Node;

const ofOne =
  (write: (g: Graph, x: Node) => Node): Written =>
  (g, [x]) =>
    write(g, x);

const written: Readonly<Record<string, Written>> = {
  sqrt: ofOne((g, x) => g.sqrt(x)),
  cbrt: ofOne(cubeRoot),
  exp: ofOne(exponential),
  ln: ofOne(naturalLogarithm),
  log10: ofOne(decimalLogarithm),
  expm1: ofOne(exponentialMinusOne),
  log1p: ofOne((g, x) => g.select(g.equal(x, g.constant(0)), x, logarithmOfOneMore(g, x))),
  sin: ofOne(sine),
  cos: ofOne(cosine),
  tan: ofOne(tangent),
  asin: ofOne(arcSine),
  acos: ofOne(arcCosine),
  atan: ofOne(arcTangent),
  atan2: (g, [y, x]) => angleOf(g, y, x),
  sinh: ofOne(hyperbolicSine),
  cosh: ofOne(hyperbolicCosine),
  tanh: ofOne(hyperbolicTangent),
  asinh: ofOne(inverseHyperbolicSine),
  acosh: ofOne(inverseHyperbolicCosine),
  atanh: ofOne(inverseHyperbolicTangent),
  abs: ofOne((g, x) => g.abs(x)),
  sign: ofOne(signOf),
  floor: ofOne((g, x) => g.floor(x)),
  min: (g, parts) => parts.reduce((a, b) => g.min(a, b)),
  max: (g, parts) => parts.reduce((a, b) => g.max(a, b)),
  hypot: (g, parts) => length(g, parts),
  dry: (g, [limit, v]) => g.multiply(limit, signOf(g, v)),
};

/**
 * The functions that the engine has, as operations on lanes. Each is good to 2 units in the last place, most to 1
 * (measured in the tests); sines of angles beyond `largestAngle` are not numbers.
 */
export function writeFunction(g: Graph, name: string, parts: readonly Node[]): Node | null {
  return Object.hasOwn(written, name) ? written[name](g, parts) : null;
}

function signOf(g: Graph, x: Node): Node {
  const negative = g.select(g.less(x, g.constant(0)), g.constant(-1), x);
  return g.select(g.less(g.constant(0), x), g.constant(1), negative);
}

/** Root of the sum of squares, in units of the largest, so that no square overflows. */
function length(g: Graph, parts: readonly Node[]): Node {
  const sizes = parts.map((part) => g.abs(part));
  const largest = sizes.reduce((a, b) => g.max(a, b));
  const shares = sizes.map((size) => g.divide(size, largest));
  const sum = shares.map((share) => g.multiply(share, share)).reduce((a, b) => g.add(a, b));
  const infinity = g.constant(Number.POSITIVE_INFINITY);
  const isOrdinary = g.and(g.less(g.constant(0), largest), g.less(largest, infinity));
  const usual = g.select(isOrdinary, g.multiply(largest, g.sqrt(sum)), largest);
  // Infinite, even beside what is no number.
  const isInfinite = sizes.map((size) => g.equal(size, infinity)).reduce((a, b) => g.or(a, b));
  return g.select(isInfinite, infinity, usual);
}

const largestProduct = 16;

/**
 * base ^ exponent: products for small whole exponents, roots for halves, a general power elsewhere.
 *
 * @param general how a general power is written
 */
export function writePower(
  g: Graph,
  base: Node,
  exponent: Node,
  general: () => Node = () => generalPower(g, base, exponent),
): Node {
  if (isNumber(exponent, 0.5)) return g.sqrt(base);
  if (isNumber(exponent, -0.5)) return g.divide(g.constant(1), g.sqrt(base));
  if (isNumber(exponent, 1.5)) return g.multiply(base, g.sqrt(base));
  if (
    isConstant(exponent) &&
    Number.isInteger(exponent.value) &&
    Math.abs(exponent.value) <= largestProduct
  ) {
    const size = Math.abs(exponent.value);
    if (size === 0) return g.constant(1);
    const product = wholePower(g, base, size);
    return exponent.value > 0 ? product : g.divide(g.constant(1), product);
  }
  return general();
}

function wholePower(g: Graph, base: Node, count: number): Node {
  if (count === 1) return base;
  const half = wholePower(g, base, count >> 1);
  const square = g.multiply(half, half);
  return count % 2 === 0 ? square : g.multiply(square, base);
}
