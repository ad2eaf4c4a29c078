import {
  addExactly,
  addOrdered,
  multiplyExactly,
  nearestWhole,
  type Pair,
  polynomial,
  powerOfTwo,
  type Whole,
  withSignOf,
} from './elementary-numbers.ts';
import type { Graph, Node } from './graph.ts';
import { exponentialTerms, logarithmTerms } from './polynomial-coefficients.ts';

/**
 * Exponentials and logarithms, by reduction to a small interval and a polynomial.
 *
 * Source: J.-M. Muller, Elementary Functions, 3rd ed. (Birkhäuser 2016), chapters 10 and 11,
 * DOI 10.1007/978-1-4899-7983-4
 */
const ln2High = 0.6931471803691238;
const ln2Low = 1.9082149292705877e-10;
const inverseLn2 = Math.LOG2E;
/** Beyond these exp is 0 or infinite whatever follows. */
const leastExponent = -750;
const largestExponent = 720;

interface Reduced {
  /** x = n ln 2 + r + rest. */
  readonly whole: Whole;
  readonly r: Node;
  /** exp(r + rest) − 1 − r. */
  readonly beyond: Node;
}

function reduce(g: Graph, x: Node, low: Node | null): Reduced {
  const whole = nearestWhole(g, g.multiply(x, g.constant(inverseLn2)));
  const { n } = whole;
  const upper = g.subtract(x, g.multiply(n, g.constant(ln2High)));
  const lower = g.multiply(n, g.constant(ln2Low));
  const r = g.subtract(upper, lower);
  const lost = g.subtract(g.subtract(upper, r), lower);
  const rest = low === null ? lost : g.add(lost, low);
  const square = g.multiply(r, r);
  const series = g.multiply(square, polynomial(g, r, exponentialTerms));
  return { whole, r, beyond: g.add(series, g.add(rest, g.multiply(rest, g.add(r, series)))) };
}

/** value·2ⁿ in two steps, so that neither power is out of range. */
function scale(g: Graph, value: Node, n: Node): Node {
  const half = g.floor(g.multiply(n, g.constant(0.5)));
  const first = g.multiply(value, powerOfTwo(g, nearestWhole(g, half)));
  return g.multiply(first, powerOfTwo(g, nearestWhole(g, g.subtract(n, half))));
}

function withinRange(g: Graph, x: Node): Node {
  return g.max(g.min(x, g.constant(largestExponent)), g.constant(leastExponent));
}

export function exponential(g: Graph, x: Node): Node {
  return exponentialOfPair(g, x, null);
}

function exponentialOfPair(g: Graph, x: Node, low: Node | null): Node {
  const { whole, r, beyond } = reduce(g, withinRange(g, x), low);
  return scale(g, g.add(g.constant(1), g.add(r, beyond)), whole.n);
}

/** exp(x) − 1, also near 0. */
export function exponentialMinusOne(g: Graph, x: Node): Node {
  const usual = exponentialLessOne(g, g.max(g.min(x, g.constant(700)), g.constant(-700)));
  const value = g.select(g.less(g.constant(700), x), exponential(g, x), usual);
  return g.select(g.equal(x, g.constant(0)), x, value);
}

/** exp(x) − 1 for |x| ≤ 709. */
function exponentialLessOne(g: Graph, x: Node): Node {
  const { whole, r, beyond } = reduce(g, x, null);
  const power = powerOfTwo(g, whole);
  const scaled = g.multiply(power, g.add(r, beyond));
  return g.add(g.subtract(power, g.constant(1)), scaled);
}

/** tanh x = e/(e + 2) with e = exp(2|x|) − 1: one division, nothing cancels near 0. */
export function hyperbolicTangent(g: Graph, x: Node): Node {
  const size = g.min(g.abs(x), g.constant(22));
  const e = exponentialLessOne(g, g.add(size, size));
  return withSignOf(g, g.divide(e, g.add(e, g.constant(2))), x);
}

export function hyperbolicSine(g: Graph, x: Node): Node {
  const size = g.abs(x);
  const e = exponentialLessOne(g, g.min(size, g.constant(22)));
  const small = g.multiply(g.constant(0.5), g.add(e, g.divide(e, g.add(e, g.constant(1)))));
  // Above 22 the falling half no longer counts; exp(x)/2 is taken so that it does not overflow early.
  const half = exponential(g, g.multiply(size, g.constant(0.5)));
  const large = g.multiply(g.multiply(g.constant(0.5), half), half);
  return withSignOf(g, g.select(g.less(g.constant(22), size), large, small), x);
}

export function hyperbolicCosine(g: Graph, x: Node): Node {
  const size = g.abs(x);
  const e = exponential(g, g.min(size, g.constant(22)));
  const small = g.multiply(g.constant(0.5), g.add(e, g.divide(g.constant(1), e)));
  const half = exponential(g, g.multiply(size, g.constant(0.5)));
  const large = g.multiply(g.multiply(g.constant(0.5), half), half);
  return g.select(g.less(g.constant(22), size), large, small);
}

const leastNormal = 2.2250738585072014e-308;
const fractionBits = (1n << 52n) - 1n;
/** Bits of √½ from the exponent down: adding 1.0 minus it moves numbers above √2 to the next exponent. */
const shiftToRoot = 0x3ff0000000000000n - 0x3fe6a09e667f3bcdn;
const rootBits = 0x3fe6a09e667f3bcdn;
const twoTo52 = 0x4330000000000000n;

/** x = 2ᵏ(1 + f), √½ ≤ 1 + f < √2, for x > 0. */
function splitExponent(g: Graph, x: Node): { readonly k: Node; readonly f: Node } {
  const isSmall = g.less(x, g.constant(leastNormal));
  const normal = g.select(isSmall, g.multiply(x, g.constant(2 ** 54)), x);
  const moved = g.bits('addBits', g.bitsOf(normal), g.pattern(shiftToRoot));
  const exponent = g.bits('orBits', g.shift('shiftRight', moved, 52), g.pattern(twoTo52));
  const whole = g.subtract(g.numberOf(exponent), g.constant(2 ** 52 + 1023));
  const k = g.subtract(whole, g.select(isSmall, g.constant(54), g.constant(0)));
  const fraction = g.bits('addBits', g.bits('andBits', moved, g.pattern(fractionBits)), g.pattern(rootBits));
  return { k, f: g.subtract(g.numberOf(fraction), g.constant(1)) };
}

/** Puts in what a logarithm is at 0, below it, at infinity and for what is no number. */
function withEnds(g: Graph, x: Node, value: Node): Node {
  const infinite = g.equal(x, g.constant(Number.POSITIVE_INFINITY));
  const finite = g.select(infinite, x, value);
  const atZero = g.select(g.equal(x, g.constant(0)), g.constant(Number.NEGATIVE_INFINITY), finite);
  return g.select(g.lessOrEqual(g.constant(0), x), atZero, g.constant(Number.NaN));
}

/** ln x = k ln 2 + f − (f²/2 − s(f²/2 + R)), s = f/(2 + f): what cancels is exact. */
export function naturalLogarithm(g: Graph, x: Node): Node {
  const { k, f } = splitExponent(g, x);
  const s = g.divide(f, g.add(g.constant(2), f));
  const z = g.multiply(s, s);
  const series = g.multiply(z, polynomial(g, z, logarithmTerms));
  const halfSquare = g.multiply(g.multiply(g.constant(0.5), f), f);
  const upper = g.multiply(s, g.add(halfSquare, series));
  const tail = g.add(upper, g.multiply(k, g.constant(ln2Low)));
  const value = g.subtract(g.multiply(k, g.constant(ln2High)), g.subtract(g.subtract(halfSquare, tail), f));
  return withEnds(g, x, value);
}

/** ln(1 + x), also near 0: ln of the rounded sum, and what the rounding left out. */
export function logarithmOfOneMore(g: Graph, x: Node): Node {
  const { high, low } = addExactly(g, g.constant(1), x);
  const correction = g.divide(low, high);
  const finite = g.less(g.abs(high), g.constant(Number.POSITIVE_INFINITY));
  const positive = g.and(finite, g.less(g.constant(0), high));
  return g.add(naturalLogarithm(g, high), g.select(positive, correction, g.constant(0)));
}

const ln2First = 0.6931471805592082;
const ln2Second = 7.371002565161996e-13;
const twoThirds: readonly [number, number] = [2 / 3, 3.700743415417188e-17];
/** 2/5, 2/7 … of the series of 2 artanh s: what the short polynomial leaves out counts here. */
const longSeries = Array.from({ length: 11 }, (_, k) => 2 / (2 * k + 5));

/** ln x in two parts, to about 2⁻⁶⁷, for x > 0. */
function logarithmPair(g: Graph, x: Node): Pair {
  const { k, f } = splitExponent(g, x);
  const two = addExactly(g, g.constant(2), f);
  const s = g.divide(f, two.high);
  const product = multiplyExactly(g, s, two.high);
  const left = g.subtract(g.subtract(g.subtract(f, product.high), product.low), g.multiply(s, two.low));
  const sLow = g.divide(left, two.high);
  // 2 artanh s = 2s + s³(2/3 + z·rest)
  const z = multiplyExactly(g, s, s);
  const zLow = g.add(z.low, g.multiply(g.multiply(g.constant(2), s), sLow));
  const rest = g.multiply(z.high, polynomial(g, z.high, longSeries));
  const restSum = addOrdered(g, g.constant(twoThirds[0]), rest);
  const bracketLow = g.add(
    restSum.low,
    g.add(g.constant(twoThirds[1]), g.multiply(zLow, g.constant(longSeries[0]))),
  );
  const cube = multiplyExactly(g, z.high, s);
  const cubeLow = g.add(cube.low, g.add(g.multiply(zLow, s), g.multiply(z.high, sLow)));
  const term = multiplyExactly(g, cube.high, restSum.high);
  const termLow = g.add(
    term.low,
    g.add(g.multiply(cube.high, bracketLow), g.multiply(cubeLow, restSum.high)),
  );
  const whole = g.multiply(k, g.constant(ln2First));
  const first = addExactly(g, whole, g.add(s, s));
  const second = addExactly(g, first.high, term.high);
  const low = g.add(
    g.add(g.add(first.low, second.low), g.multiply(k, g.constant(ln2Second))),
    g.add(g.add(sLow, sLow), termLow),
  );
  return addOrdered(g, second.high, low);
}

const inverseLn10: readonly [number, number] = [Math.LOG10E, 1.098319650216765e-17];

export function decimalLogarithm(g: Graph, x: Node): Node {
  const { high, low } = logarithmPair(g, x);
  const product = multiplyExactly(g, high, g.constant(inverseLn10[0]));
  const rest = g.add(
    g.multiply(low, g.constant(inverseLn10[0])),
    g.multiply(high, g.constant(inverseLn10[1])),
  );
  return withEnds(g, x, g.add(product.high, g.add(product.low, rest)));
}

/** x to the power y, with the ends and signs of ECMA-262 (21.3.2.26). */
export function generalPower(g: Graph, x: Node, y: Node): Node {
  const zero = g.constant(0);
  const one = g.constant(1);
  const infinity = g.constant(Number.POSITIVE_INFINITY);
  const size = g.abs(x);
  const { high, low } = logarithmPair(g, size);
  // Powers so large that only 0, 1 or infinity can come out are cut before they overflow.
  const power = g.max(g.min(y, g.constant(1e300)), g.constant(-1e300));
  const rough = g.multiply(power, high);
  const inRange = g.less(g.abs(rough), g.constant(1000));
  const safePower = g.select(inRange, power, one);
  const product = multiplyExactly(g, high, safePower);
  const exponentLow = g.add(product.low, g.multiply(low, safePower));
  const usual = exponentialOfPair(g, product.high, g.select(inRange, exponentLow, zero));
  const beyond = g.select(g.less(zero, rough), infinity, zero);
  const finite = g.select(inRange, usual, g.select(g.equal(rough, rough), beyond, rough));
  const goesUp = g.less(zero, y);
  const atZero = g.select(goesUp, zero, infinity);
  const atInfinity = g.select(goesUp, infinity, zero);
  const positive = g.select(
    g.equal(size, zero),
    atZero,
    g.select(g.equal(size, infinity), atInfinity, finite),
  );
  const isWhole = g.equal(g.floor(y), y);
  const half = g.multiply(y, g.constant(0.5));
  const isOdd = g.and(isWhole, g.notEqual(g.floor(half), half));
  const negative = g.select(isOdd, g.negate(positive), positive);
  // −0 counts as negative.
  const isNegative = g.less(withSignOf(g, one, x), zero);
  const allowed = g.or(isWhole, g.or(g.equal(size, zero), g.equal(size, infinity)));
  const signed = g.select(isNegative, g.select(allowed, negative, g.constant(Number.NaN)), positive);
  const isOpen = g.and(g.equal(size, one), g.equal(g.abs(y), infinity));
  const settled = g.select(isOpen, g.constant(Number.NaN), signed);
  const known = g.select(g.equal(x, x), g.select(g.equal(y, y), settled, y), x);
  return g.select(g.equal(y, zero), one, known);
}

/** The root of a logarithm's third, made good by one step of Newton's method. */
export function cubeRoot(g: Graph, x: Node): Node {
  const size = g.abs(x);
  const ordinary = g.and(g.less(g.constant(0), size), g.less(size, g.constant(Number.POSITIVE_INFINITY)));
  const third = g.multiply(naturalLogarithm(g, size), g.constant(1 / 3));
  const rough = exponential(g, third);
  const miss = g.subtract(rough, g.divide(size, g.multiply(rough, rough)));
  const root = g.subtract(rough, g.multiply(miss, g.constant(1 / 3)));
  return withSignOf(g, g.select(ordinary, root, size), x);
}

/** arsinh, arcosh and artanh through ln(1 + …), in forms in which nothing cancels. */
export function inverseHyperbolicSine(g: Graph, x: Node): Node {
  const size = g.abs(x);
  const isLarge = g.less(g.constant(1e8), size);
  const bounded = g.min(size, g.constant(1e8));
  const square = g.multiply(bounded, bounded);
  const root = g.sqrt(g.add(square, g.constant(1)));
  const inner = g.add(bounded, g.divide(square, g.add(g.constant(1), root)));
  const large = g.add(naturalLogarithm(g, size), g.constant(Math.LN2));
  return withSignOf(g, g.select(isLarge, large, logarithmOfOneMore(g, inner)), x);
}

export function inverseHyperbolicCosine(g: Graph, x: Node): Node {
  const isLarge = g.less(g.constant(1e8), x);
  const above = g.subtract(g.min(x, g.constant(1e8)), g.constant(1));
  const root = g.sqrt(g.multiply(above, g.add(above, g.constant(2))));
  const large = g.add(naturalLogarithm(g, x), g.constant(Math.LN2));
  const value = g.select(isLarge, large, logarithmOfOneMore(g, g.add(above, root)));
  return g.select(g.lessOrEqual(g.constant(1), x), value, g.constant(Number.NaN));
}

export function inverseHyperbolicTangent(g: Graph, x: Node): Node {
  const size = g.abs(x);
  const inner = g.divide(g.add(size, size), g.subtract(g.constant(1), size));
  return withSignOf(g, g.multiply(g.constant(0.5), logarithmOfOneMore(g, inner)), x);
}
