import type { SignalOutline, SignalOverTime } from './monotone-stretches.ts';

/**
 * Time at which a signal passes a level within interval i of its outline, to about 1e-13 of the time.
 *
 * Starts from the cubic through four neighbouring points, so that two or three looks at the signal are
 * enough where it is smooth; secant steps inside a bracket, halved where a secant would leave it.
 *
 * @param level must lie between the values at both ends of the interval
 */
export function crossingTime(
  signal: SignalOverTime,
  outline: SignalOutline,
  i: number,
  level: number,
): number {
  const { t, y } = outline;
  let low = t[i];
  let high = t[i + 1];
  if (high <= low || y[i] === level) return low;
  if (y[i + 1] === level) return high;
  const rising = y[i + 1] > y[i];
  const enough = 1e-14 * Math.max(Math.abs(high), high - low);

  const start = cubicGuess(outline, i, level);
  let previous = start.t;
  let previousExcess = signal.valueAt(previous) - level;
  if (previousExcess === 0) return previous;
  if (previousExcess > 0 === rising) high = previous;
  else low = previous;
  const firstStep = previousExcess / start.slope;
  if (Math.abs(firstStep) <= enough) return previous;
  let next = previous - firstStep;
  if (!(next > low && next < high)) next = 0.5 * (low + high);

  const width = t[i + 1] - t[i];
  const noise = Number.EPSILON * Math.max(Math.abs(y[i]), Math.abs(y[i + 1]));
  let widthBefore = high - low;
  for (let round = 0; round < 100; round++) {
    const excess = signal.valueAt(next) - level;
    if (excess === 0) return next;
    if (excess > 0 === rising) high = next;
    else low = next;
    // Two looks so close that rounding makes most of their difference tell no slope: the cubic's then serves.
    const change = excess - previousExcess;
    const tellsSlope = Math.abs(change) > 1e3 * noise;
    const slope = tellsSlope ? change / (next - previous) : start.slope;
    const step = excess / slope;
    let following = next - step;
    // What a secant step leaves is about the product of the last two errors, in units of the interval.
    const left = tellsSlope ? Math.abs((step * (next - previous)) / width) : 0.01 * Math.abs(step);
    const isInside = following > low && following < high;
    if (Math.abs(step) <= enough || left <= enough) return isInside ? following : next;
    const stalls = round % 3 === 2 && high - low > 0.5 * widthBefore;
    if (round % 3 === 2) widthBefore = high - low;
    if (stalls || !isInside) following = 0.5 * (low + high);
    if (high - low <= enough) return following;
    previous = next;
    previousExcess = excess;
    next = following;
  }
  return next;
}

/** Where the cubic through the interval's ends and their neighbours passes the level, and its slope there. */
function cubicGuess(outline: SignalOutline, i: number, level: number): { t: number; slope: number } {
  const { t, y, piece } = outline;
  const t0 = t[i];
  const h = t[i + 1] - t0;
  const rise = (y[i + 1] - y[i]) / h;
  // Newton's divided differences on points i, i+1, then the nearest further points of the same piece.
  const before = i > 0 && piece[i - 1] === piece[i] && t[i - 1] < t0;
  const after = i + 2 < t.length && piece[i + 2] === piece[i] && t[i + 2] > t[i + 1];
  let bend = 0;
  let twist = 0;
  if (before) {
    const slopeBefore = (y[i] - y[i - 1]) / (t0 - t[i - 1]);
    bend = (rise - slopeBefore) / (t[i + 1] - t[i - 1]);
  }
  if (after) {
    const slopeAfter = (y[i + 2] - y[i + 1]) / (t[i + 2] - t[i + 1]);
    const bendAfter = (slopeAfter - rise) / (t[i + 2] - t0);
    if (before) twist = (bendAfter - bend) / (t[i + 2] - t[i - 1]);
    else bend = bendAfter;
  }
  const beforeT = before ? t[i - 1] - t0 : 0;
  // p(s) = y + rise·s + bend·s(s−h) + twist·s(s−h)(s−before), with s from the interval's beginning.
  let s = ((level - y[i]) / (y[i + 1] - y[i])) * h;
  let slope = rise;
  for (let round = 0; round < 8; round++) {
    const value = y[i] + s * (rise + (s - h) * (bend + twist * (s - beforeT)));
    slope = rise + bend * (2 * s - h) + twist * (s * (s - h) + s * (s - beforeT) + (s - h) * (s - beforeT));
    const step = (value - level) / slope;
    const next = s - step;
    if (!(next >= 0 && next <= h)) {
      s = ((level - y[i]) / (y[i + 1] - y[i])) * h;
      slope = rise;
      break;
    }
    s = next;
    if (Math.abs(step) < 1e-9 * h) break;
  }
  return { t: t0 + s, slope };
}
