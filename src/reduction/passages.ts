import { localPolynomial, localPolynomialWeights } from './local-polynomial.ts';

/** Readings between which a swinging column passes a level. */
export interface Passage {
  /** The last row before, and the first row after. */
  readonly left: number;
  readonly rises: boolean;
  /** First and last row of the readings near the level. */
  readonly first: number;
  readonly last: number;
}

/** Share of the last excursion by which the other side must be reached for a passage to count. */
const HYSTERESIS = 0.2;
/** Readings within this share of the smaller excursion on either side place a passage. */
const NEAR_LEVEL = 0.4;
const DEGREE = 3;

/**
 * Passages through a level, each counted once however noisy the readings are near it.
 *
 * A passage counts when the readings go from one side to the other by a fifth of the last excursion, which may
 * shrink from swing to swing.
 */
export function findPassages(y: Float64Array, level: number): Passage[] {
  const passages: Passage[] = [];
  let largest = 0;
  for (let i = 0; i < y.length; i++) largest = Math.max(largest, Math.abs(y[i] - level));
  let side = 0;
  let excursion = 0;
  // Just after a passage the new excursion has only begun: half the last one then stands for it.
  let expected = largest;
  let lastOnSide = 0;
  for (let i = 0; i < y.length; i++) {
    const height = y[i] - level;
    const threshold = HYSTERESIS * Math.max(excursion, expected);
    if (Math.abs(height) < threshold || height === 0) continue;
    const now = height > 0 ? 1 : -1;
    if (side !== 0 && now !== side) {
      const next = excursionFrom(y, level, i, now, threshold);
      passages.push(passageBetween(y, level, lastOnSide, i, NEAR_LEVEL * Math.min(excursion, next)));
      expected = 0.5 * excursion;
      excursion = 0;
    } else if (side === 0) {
      expected = 0;
    }
    side = now;
    lastOnSide = i;
    excursion = Math.max(excursion, Math.abs(height));
  }
  return passages;
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

function passageBetween(
  y: Float64Array,
  level: number,
  before: number,
  after: number,
  near: number,
): Passage {
  const rises = y[after] > y[before];
  // The two neighbours between which the readings change sides for the last time.
  let left = after - 1;
  while (left > before && y[left] - level > 0 === rises) left -= 1;
  let first = left;
  let last = left + 1;
  while (first > before && Math.abs(y[first - 1] - level) < near) first -= 1;
  while (last < after && Math.abs(y[last + 1] - level) < near) last += 1;
  while (last - first < DEGREE && (first > 0 || last + 1 < y.length)) {
    if (first > 0 && (left - first <= last - left - 1 || last + 1 >= y.length)) first -= 1;
    else last += 1;
  }
  return { left, rises, first, last };
}

/** Time of a passage by the straight line between its two neighbours. */
export function roughTime(t: Float64Array, y: Float64Array, level: number, { left }: Passage): number {
  return t[left] + ((level - y[left]) / (y[left + 1] - y[left])) * (t[left + 1] - t[left]);
}

/** Time of a passage, where the cubic through the readings near the level passes it. */
export function timeOfPassage(t: Float64Array, y: Float64Array, level: number, passage: Passage): number {
  const rough = roughTime(t, y, level, passage);
  const { left, first, last } = passage;
  const width = Math.max(rough - t[first], t[last] - rough);
  const places = new Float64Array(last - first + 1);
  const heights = new Float64Array(last - first + 1);
  for (let i = 0; i < places.length; i++) {
    places[i] = (t[first + i] - rough) / width;
    heights[i] = y[first + i] - level;
  }
  const c = localPolynomial(places, heights, Math.min(DEGREE, last - first));
  let at = 0;
  for (let round = 0; round < 8; round++) {
    let height = 0;
    let slope = 0;
    for (let power = c.length - 1; power >= 0; power--) {
      slope = slope * at + height;
      height = height * at + c[power];
    }
    const step = height / slope;
    // Noise may turn the cubic over; the straight line between the neighbours then has to do.
    if (!(Math.abs(at - step) * width <= t[left + 1] - t[left] + 0.5 * width)) return rough;
    at -= step;
    if (Math.abs(step) < 1e-14) break;
  }
  return rough + at * width;
}

/** Standard uncertainty of a passage's time for readings of standard uncertainty 1. */
export function sensitivityOfPassage(t: Float64Array, y: Float64Array, passage: Passage, at: number): number {
  const { first, last } = passage;
  const degree = Math.min(DEGREE, last - first);
  const width = Math.max(at - t[first], t[last] - at);
  const places = Float64Array.from({ length: last - first + 1 }, (_, i) => (t[first + i] - at) / width);
  const ones = places.map(() => 1);
  const valueWeights = localPolynomialWeights(places, ones, degree, 0);
  const slopeWeights = localPolynomialWeights(places, ones, degree, 1);
  let slope = 0;
  let squares = 0;
  for (let i = 0; i < places.length; i++) {
    slope += (slopeWeights[i] * y[first + i]) / width;
    squares += valueWeights[i] ** 2;
  }
  return Math.sqrt(squares) / Math.abs(slope);
}
