/** A function of time with its breaks; both `MotionSource` and a `Margin` within its motion are one. */
export interface SignalOverTime {
  readonly startS: number;
  readonly endS: number;
  readonly breaks: Float64Array;
  valueAt(t: number): number;
  valueBefore(t: number): number;
}

/**
 * Points of a signal, in order of time, between which it is monotone and nearly a cubic.
 *
 * `piece[i]` counts the breaks passed, so neighbours of different pieces stand at the same time, before and
 * after a jump or a bend.
 */
export interface SignalOutline {
  readonly t: number[];
  readonly y: number[];
  readonly piece: number[];
}

/** Intervals that a smooth piece is first cut into. */
const FIRST_INTERVALS = 24;
/** Share of the local change by which a point may differ from the cubic through its neighbours. */
const SMOOTH_ENOUGH = 0.01;
const MOST_POINTS = 200_000;
const GOLDEN = (3 - Math.sqrt(5)) / 2;

/**
 * The outline of a signal: points dense enough that no turning point lies inside an interval.
 *
 * A piece is cut until each point lies near the cubic through its neighbours; the points are unevenly spaced,
 * so that no oscillation hides behind an even grid. Turning points are then found by golden section with
 * parabolas and become points themselves (their values to about 1e-12 of the local change).
 * Oscillations with fewer than about four points a period in the first cut of 24 are found by refinement; a
 * narrow spike that stands between all points is not, unless the model declares a break there.
 */
export function outlineSignal(signal: SignalOverTime): SignalOutline {
  const outline: SignalOutline = { t: [], y: [], piece: [] };
  let left = signal.startS;
  let piece = 0;
  for (let i = 0; i <= signal.breaks.length; i++) {
    const right = i < signal.breaks.length ? signal.breaks[i] : signal.endS;
    if (right <= left || right > signal.endS) continue;
    outlinePiece(signal, left, right, piece, outline);
    left = right;
    piece += 1;
  }
  return outline;
}

function outlinePiece(
  signal: SignalOverTime,
  left: number,
  right: number,
  piece: number,
  outline: SignalOutline,
): void {
  let t: number[] = [];
  let y: number[] = [];
  const step = (right - left) / FIRST_INTERVALS;
  for (let i = 0; i <= FIRST_INTERVALS; i++) {
    const uneven = i === 0 || i === FIRST_INTERVALS ? 0 : 0.31 * (((i * 0.6180339887498949) % 1) - 0.5);
    const time = i === FIRST_INTERVALS ? right : left + (i + uneven) * step;
    t.push(time);
    y.push(i === FIRST_INTERVALS ? signal.valueBefore(right) : signal.valueAt(time));
  }
  for (let round = 0; round < 12 && t.length < MOST_POINTS; round++) {
    const finer = cutWhereUneven(signal, t, y);
    if (finer === null) break;
    t = finer.t;
    y = finer.y;
  }
  addTurningPoints(signal, t, y, piece, outline);
}

/** Points with the intervals halved around each point that the cubic through its neighbours misses; or null. */
function cutWhereUneven(
  signal: SignalOverTime,
  t: readonly number[],
  y: readonly number[],
): { t: number[]; y: number[] } | null {
  const last = t.length - 1;
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i <= last; i++) {
    if (y[i] < lowest) lowest = y[i];
    if (y[i] > highest) highest = y[i];
  }
  const negligible = 1e-9 * (highest - lowest);
  let cuts: Uint8Array | null = null;
  for (let i = 2; i <= last - 2; i++) {
    const expected = cubicThrough(t, y, i);
    const change = Math.max(Math.abs(y[i + 1] - y[i]), Math.abs(y[i] - y[i - 1]));
    if (Math.abs(y[i] - expected) > SMOOTH_ENOUGH * change + negligible) {
      cuts ??= new Uint8Array(last);
      cuts[i - 1] = 1;
      cuts[i] = 1;
      if (i === 2) cuts[0] = 1;
      if (i === last - 2) cuts[last - 1] = 1;
    }
  }
  if (cuts === null) return null;
  const finer = { t: [t[0]], y: [y[0]] };
  for (let i = 0; i < last; i++) {
    const middle = t[i] + 0.5 * (t[i + 1] - t[i]);
    if (cuts[i] === 1 && middle > t[i] && middle < t[i + 1]) {
      finer.t.push(middle);
      finer.y.push(signal.valueAt(middle));
    }
    finer.t.push(t[i + 1]);
    finer.y.push(y[i + 1]);
  }
  return finer.t.length === t.length ? null : finer;
}

/** Value at t[i] of the cubic through the two points on either side. */
function cubicThrough(t: readonly number[], y: readonly number[], i: number): number {
  const a = t[i - 2] - t[i];
  const b = t[i - 1] - t[i];
  const c = t[i + 1] - t[i];
  const d = t[i + 2] - t[i];
  return (
    (-y[i - 2] * b * c * d) / ((a - b) * (a - c) * (a - d)) -
    (y[i - 1] * a * c * d) / ((b - a) * (b - c) * (b - d)) -
    (y[i + 1] * a * b * d) / ((c - a) * (c - b) * (c - d)) -
    (y[i + 2] * a * b * c) / ((d - a) * (d - b) * (d - c))
  );
}

function addTurningPoints(
  signal: SignalOverTime,
  t: readonly number[],
  y: readonly number[],
  piece: number,
  outline: SignalOutline,
): void {
  const last = t.length - 1;
  for (let i = 0; i <= last; i++) {
    outline.t.push(t[i]);
    outline.y.push(y[i]);
    outline.piece.push(piece);
    if (i === last) return;
    const turn = turningPointIn(signal, t, y, i);
    if (turn !== null) {
      outline.t.push(turn.t);
      outline.y.push(turn.y);
      outline.piece.push(piece);
    }
  }
}

/** The turning point inside the interval that begins at point i, where neighbours show that there is one. */
function turningPointIn(
  signal: SignalOverTime,
  t: readonly number[],
  y: readonly number[],
  i: number,
): { t: number; y: number } | null {
  const last = t.length - 1;
  const rise = y[i + 1] - y[i];
  const before = i > 0 ? y[i] - y[i - 1] : slopeAtEnd(t, y, 0, 1) * (t[1] - t[0]);
  const after = i + 1 < last ? y[i + 2] - y[i + 1] : slopeAtEnd(t, y, last, -1) * (t[last] - t[last - 1]);
  const size = Math.abs(before) + Math.abs(rise) + Math.abs(after);
  if (before > 1e-7 * size && after < -1e-7 * size) return peakWithin(signal, t, y, i, 1);
  if (before < -1e-7 * size && after > 1e-7 * size) return peakWithin(signal, t, y, i, -1);
  return null;
}

/** Slope at the first (direction 1) or last (direction −1) point, from the cubic through the nearest four. */
function slopeAtEnd(t: readonly number[], y: readonly number[], end: number, direction: 1 | -1): number {
  const at = (k: number) => end + direction * k;
  const a = t[at(1)] - t[end];
  const b = t[at(2)] - t[end];
  const c = t[at(3)] - t[end];
  const ya = (y[at(1)] - y[end]) / a;
  const yb = (y[at(2)] - y[end]) / b;
  const yc = (y[at(3)] - y[end]) / c;
  return (
    (ya * b * c) / ((a - b) * (a - c)) +
    (yb * a * c) / ((b - a) * (b - c)) +
    (yc * a * b) / ((c - a) * (c - b))
  );
}

/**
 * Largest (sign 1) or smallest (sign −1) value inside an interval, or null where an end of it is the largest.
 *
 * Golden section with parabolic steps. Source: R. P. Brent, Algorithms for Minimization without Derivatives
 * (1973), chapter 5.
 */
function peakWithin(
  signal: SignalOverTime,
  t: readonly number[],
  y: readonly number[],
  i: number,
  sign: 1 | -1,
): { t: number; y: number } | null {
  let low = t[i];
  let high = t[i + 1];
  const width = high - low;
  const enough = 1e-8 * width;
  let best = low + GOLDEN * width;
  let bestY = sign * signal.valueAt(best);
  let second = best;
  let secondY = bestY;
  let third = best;
  let thirdY = bestY;
  let step = 0;
  let stepBefore = 0;
  for (let round = 0; round < 60; round++) {
    const middle = 0.5 * (low + high);
    if (Math.abs(best - middle) <= 2 * enough - 0.5 * (high - low)) break;
    let parabolic = false;
    if (Math.abs(stepBefore) > enough) {
      const r = (best - second) * (bestY - thirdY);
      let q = (best - third) * (bestY - secondY);
      let p = (best - third) * q - (best - second) * r;
      q = 2 * (q - r);
      if (q > 0) p = -p;
      else q = -q;
      if (Math.abs(p) < Math.abs(0.5 * q * stepBefore) && p > q * (low - best) && p < q * (high - best)) {
        stepBefore = step;
        step = p / q;
        parabolic = true;
      }
    }
    if (!parabolic) {
      stepBefore = best < middle ? high - best : low - best;
      step = GOLDEN * stepBefore;
    }
    const next = best + (Math.abs(step) >= enough ? step : step > 0 ? enough : -enough);
    const nextY = sign * signal.valueAt(next);
    if (nextY >= bestY) {
      if (next < best) high = best;
      else low = best;
      third = second;
      thirdY = secondY;
      second = best;
      secondY = bestY;
      best = next;
      bestY = nextY;
    } else {
      if (next < best) low = next;
      else high = next;
      if (nextY >= secondY || second === best) {
        third = second;
        thirdY = secondY;
        second = next;
        secondY = nextY;
      } else if (nextY >= thirdY || third === best || third === second) {
        third = next;
        thirdY = nextY;
      }
    }
  }
  if (bestY <= Math.max(sign * y[i], sign * y[i + 1])) return null;
  return { t: best, y: sign * bestY };
}
