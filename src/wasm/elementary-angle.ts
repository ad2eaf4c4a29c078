import { nearestWhole, polynomial, signBit, signOf, turned, withSignOf } from './elementary-numbers.ts';
import type { Graph, Node } from './graph.ts';
import { arcTangentTerms, sineTerms } from './polynomial-coefficients.ts';

/**
 * Sines and arc tangents, by reduction to a small interval and a polynomial.
 *
 * Sources: W. J. Cody and W. Waite, Software Manual for the Elementary Functions (Prentice-Hall 1980), chapter 8,
 * for the reduction; J.-M. Muller, Elementary Functions, 3rd ed. (Birkhäuser 2016), DOI 10.1007/978-1-4899-7983-4
 */

/** π in parts of 33, 33 and 53 bits: products of the first two with halves of numbers below 2²⁰ are exact. */
const halfTurn: readonly [number, number, number] = [
  3.1415926534682512, 1.2154201012607932e-10, 4.044532497591901e-21,
];

/** Angles beyond this (rad) are not reduced on lanes: their sine is not a number there. See `far-angles.ts`. */
export const largestAngle = 500_000;

/** sin(x − mπ), for |x − mπ| ≤ π/2 and m half of a whole number. */
function sineFrom(g: Graph, x: Node, m: Node): Node {
  const upper = g.subtract(x, g.multiply(m, g.constant(halfTurn[0])));
  const next = g.multiply(m, g.constant(halfTurn[1]));
  const middle = g.subtract(upper, next);
  // Where `upper` is the smaller it has cancelled, and what this misses is below rounding.
  const lost = g.subtract(g.subtract(upper, middle), next);
  const last = g.subtract(lost, g.multiply(m, g.constant(halfTurn[2])));
  const r = g.add(middle, last);
  const tail = g.add(g.subtract(middle, r), last);
  const z = g.multiply(r, r);
  const series = g.multiply(g.multiply(r, z), polynomial(g, z, sineTerms));
  // The tail counts with the cosine of r; a parabola through its ends is near enough.
  const tailShare = g.multiply(tail, g.subtract(g.constant(1), g.multiply(g.constant(4 / Math.PI ** 2), z)));
  return g.add(r, g.add(series, tailShare));
}

function within(g: Graph, x: Node, value: Node): Node {
  return g.select(g.lessOrEqual(g.abs(x), g.constant(largestAngle)), value, g.constant(Number.NaN));
}

/** By the size of the angle, so that −0 has the sine −0. */
export function sine(g: Graph, x: Node): Node {
  const size = g.abs(x);
  const whole = nearestWhole(g, g.multiply(size, g.constant(1 / Math.PI)));
  return within(g, x, turned(g, sineFrom(g, size, whole.n), whole, signOf(g, x)));
}

/** cos x = −(−1)ⁿ sin(x − (n + ½)π). */
export function cosine(g: Graph, x: Node): Node {
  const half = g.constant(0.5);
  const whole = nearestWhole(g, g.subtract(g.multiply(x, g.constant(1 / Math.PI)), half));
  return within(g, x, turned(g, sineFrom(g, x, g.add(whole.n, half)), whole, g.pattern(signBit)));
}

export function tangent(g: Graph, x: Node): Node {
  return g.divide(sine(g, x), cosine(g, x));
}

const turns = {
  eighth: [0.7853981633974483, 3.061616997868383e-17],
  quarter: [1.5707963267948966, 6.123233995736766e-17],
  half: [Math.PI, 1.2246467991473532e-16],
} as const;
/** tan(π/8) */
const tangentOfSixteenth = 0.41421356237309503;

/** The angle of the point (x, y), from −π to π. */
export function angleOf(g: Graph, y: Node, x: Node): Node {
  const width = g.abs(x);
  const height = g.abs(y);
  const isSteep = g.less(width, height);
  const smaller = g.select(isSteep, width, height);
  const larger = g.select(isSteep, height, width);
  // What is infinite counts as 1 beside what is not; what is large is brought down, so that sums do not overflow.
  const infinity = g.constant(Number.POSITIVE_INFINITY);
  const isInfinite = g.equal(larger, infinity);
  const unit = g.select(g.less(g.constant(1e300), larger), g.constant(2 ** -10), g.constant(1));
  const share = g.select(g.equal(smaller, infinity), g.constant(1), g.constant(0));
  const least = g.select(isInfinite, share, g.multiply(smaller, unit));
  const largest = g.select(isInfinite, g.constant(1), g.multiply(larger, unit));
  const isLarge = g.less(g.multiply(largest, g.constant(tangentOfSixteenth)), least);
  const numerator = g.select(isLarge, g.subtract(least, largest), least);
  const denominator = g.select(isLarge, g.add(least, largest), largest);
  const t = g.select(g.equal(denominator, g.constant(0)), g.constant(0), g.divide(numerator, denominator));
  const z = g.multiply(t, t);
  const series = g.multiply(g.multiply(t, z), polynomial(g, z, arcTangentTerms));
  const zero = g.constant(0);
  // The angle is base ± (t + series), with the base in two parts.
  const fromAxis = g.select(isLarge, g.constant(turns.eighth[0]), zero);
  const fromAxisLow = g.select(isLarge, g.constant(turns.eighth[1]), zero);
  const near = g.add(fromAxis, g.add(t, g.add(series, fromAxisLow)));
  const steepBase = g.select(isLarge, g.constant(turns.eighth[0]), g.constant(turns.quarter[0]));
  const steepLow = g.select(isLarge, g.constant(turns.eighth[1]), g.constant(turns.quarter[1]));
  const steep = g.subtract(steepBase, g.subtract(g.add(t, series), steepLow));
  const first = g.select(isSteep, steep, near);
  const left = g.subtract(g.constant(turns.half[0]), g.subtract(first, g.constant(turns.half[1])));
  const isLeft = g.less(g.divide(g.constant(1), x), zero);
  const known = g.select(
    g.less(x, zero),
    left,
    g.select(g.and(g.equal(x, zero), g.equal(y, zero)), g.select(isLeft, g.constant(Math.PI), zero), first),
  );
  const isKnown = g.and(g.equal(x, x), g.equal(y, y));
  return g.select(isKnown, withSignOf(g, known, y), g.constant(Number.NaN));
}

export function arcTangent(g: Graph, x: Node): Node {
  const size = g.min(g.abs(x), g.constant(1e300));
  return withSignOf(g, angleOf(g, size, g.constant(1)), x);
}

export function arcSine(g: Graph, x: Node): Node {
  const one = g.constant(1);
  const root = g.sqrt(g.multiply(g.subtract(one, x), g.add(one, x)));
  return angleOf(g, x, root);
}

/** 2 arctan √((1 − x)/(1 + x)): nothing cancels near 1. */
export function arcCosine(g: Graph, x: Node): Node {
  const one = g.constant(1);
  const half = angleOf(g, g.sqrt(g.subtract(one, x)), g.sqrt(g.add(one, x)));
  return g.add(half, half);
}
