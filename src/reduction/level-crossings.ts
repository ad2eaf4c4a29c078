import { localPolynomialWeights } from './local-polynomial.ts';

/** A passage of a swinging column through a level. */
export interface Crossing {
  readonly t: number;
  readonly rises: boolean;
  /** Standard uncertainty of t for readings of standard uncertainty 1. */
  readonly sensitivity: number;
}

/** Share of the last excursion by which the other side must be reached for a passage to count. */
const HYSTERESIS = 0.2;
/** Readings within this share of the smaller excursion on either side place a passage. */
const NEAR_LEVEL = 0.4;

/**
 * Passages through a level, each counted once however noisy the readings are near it.
 *
 * A passage counts when the readings go from one side to the other by a fifth of the last excursion, which may
 * shrink from swing to swing. Its time is that at which a cubic through the readings near the level passes it.
 */
export function findCrossings(t: Float64Array, y: Float64Array, level: number): Crossing[] {
  const crossings: Crossing[] = [];
  let largest = 0;
  for (const value of y) largest = Math.max(largest, Math.abs(value - level));
  let side = 0;
  let excursion = largest;
  let lastOnSide = 0;
  let sinceSide = 0;
  for (let i = 0; i < y.length; i++) {
    const height = y[i] - level;
    const threshold = HYSTERESIS * (side === 0 ? largest : excursion);
    if (Math.abs(height) < threshold || height === 0) continue;
    const now = Math.sign(height);
    if (side !== 0 && now !== side) {
      const next = excursionFrom(y, level, i, now, HYSTERESIS * excursion);
      crossings.push(placeCrossing(t, y, level, lastOnSide, i, NEAR_LEVEL * Math.min(sinceSide, next)));
      sinceSide = 0;
    }
    side = now;
    lastOnSide = i;
    sinceSide = Math.max(sinceSide, Math.abs(height));
    excursion = sinceSide;
  }
  return crossings;
}

/** How far the readings go from the level, from row i on, before they are well on the other side. */
function excursionFrom(y: Float64Array, level: number, i: number, side: number, threshold: number): number {
  let farthest = 0;
  for (let j = i; j < y.length; j++) {
    const height = side * (y[j] - level);
    if (height < -threshold) break;
    farthest = Math.max(farthest, height);
  }
  return farthest;
}

/** Time of a passage between two rows on either side, from the readings less than `near` from the level. */
function placeCrossing(
  t: Float64Array,
  y: Float64Array,
  level: number,
  before: number,
  after: number,
  near: number,
): Crossing {
  const rises = y[after] > y[before];
  // The two neighbours between which the readings change sides for the last time.
  let left = after - 1;
  while (left > before && y[left] - level > 0 === rises) left -= 1;
  let first = left;
  let last = left + 1;
  while (first > 0 && Math.abs(y[first - 1] - level) < near && first - 1 >= before) first -= 1;
  while (last + 1 < y.length && Math.abs(y[last + 1] - level) < near && last + 1 <= after) last += 1;
  while (last - first < 3 && (first > 0 || last + 1 < y.length)) {
    if (first > 0 && (left - first <= last - left - 1 || last + 1 >= y.length)) first -= 1;
    else last += 1;
  }
  const degree = Math.min(3, last - first);
  const middle = 0.5 * (t[left] + t[left + 1]);
  const width = Math.max(middle - t[first], t[last] - middle);
  let at = t[left] + ((level - y[left]) / (y[left + 1] - y[left])) * (t[left + 1] - t[left]);
  let sensitivity = 0;
  // Newton's steps on the cubic, which is near a straight line here.
  for (let round = 0; round < 4; round++) {
    const places = Float64Array.from({ length: last - first + 1 }, (_, i) => (t[first + i] - at) / width);
    const ones = places.map(() => 1);
    const valueWeights = localPolynomialWeights(places, ones, degree, 0);
    const slopeWeights = localPolynomialWeights(places, ones, degree, 1);
    let value = 0;
    let slope = 0;
    let squares = 0;
    for (let i = 0; i < places.length; i++) {
      value += valueWeights[i] * (y[first + i] - level);
      slope += (slopeWeights[i] * (y[first + i] - level)) / width;
      squares += valueWeights[i] ** 2;
    }
    sensitivity = Math.sqrt(squares) / Math.abs(slope);
    const step = value / slope;
    // Noise may turn the cubic over; the straight line between the neighbours then has to do.
    if (!(Math.abs(step) < t[left + 1] - t[left] + width)) break;
    at -= step;
    if (Math.abs(step) < 1e-13 * (t[last] - t[first])) break;
  }
  return { t: at, rises, sensitivity };
}
