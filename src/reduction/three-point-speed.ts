import type { SharedErrors } from '../instrument/index.ts';
import { weighRows } from './weigh-rows.ts';

/**
 * Speed at the middle one of three places, from the parabola through them; the times need not be even.
 *
 * For places at times t₋, t, t₊ with steps h₋ = t − t₋ and h₊ = t₊ − t it is
 * (d₋·h₊ + d₊·h₋)/(h₋ + h₊), with the mean speeds d₋ and d₊ over the steps. Exact for steady acceleration.
 *
 * @param t s, n rising times
 * @param x n places
 * @returns n − 2 speeds, at t[1] … t[n − 2]
 */
export function threePointSpeeds(t: Float64Array, x: Float64Array): Float64Array {
  const speeds = new Float64Array(Math.max(0, t.length - 2));
  for (let i = 0; i < speeds.length; i++) {
    const before = t[i + 1] - t[i];
    const after = t[i + 2] - t[i + 1];
    const speedBefore = (x[i + 1] - x[i]) / before;
    const speedAfter = (x[i + 2] - x[i + 1]) / after;
    speeds[i] = (speedBefore * after + speedAfter * before) / (before + after);
  }
  return speeds;
}

/** How these speeds answer to errors of the times: three stamps each, of which neighbours share two. */
export function speedErrorsFromStamps(t: Float64Array, x: Float64Array, stamps: SharedErrors): SharedErrors {
  return shareThree(stamps, (i, out) => {
    const before = t[i + 1] - t[i];
    const after = t[i + 2] - t[i + 1];
    const total = before + after;
    const speedBefore = (x[i + 1] - x[i]) / before;
    const speedAfter = (x[i + 2] - x[i + 1]) / after;
    const speed = (speedBefore * after + speedAfter * before) / total;
    // Derivatives with respect to the two steps; the mean speeds fall as 1/step.
    const byBefore = ((-speedBefore * after) / before + speedAfter - speed) / total;
    const byAfter = ((-speedAfter * before) / after + speedBefore - speed) / total;
    out[0] = -byBefore;
    out[1] = byBefore - byAfter;
    out[2] = byAfter;
  });
}

/** How these speeds answer to errors of the places. */
export function speedErrorsFromPlaces(t: Float64Array, places: SharedErrors): SharedErrors {
  return shareThree(places, (i, out) => {
    const before = t[i + 1] - t[i];
    const after = t[i + 2] - t[i + 1];
    const total = before + after;
    out[0] = -after / before / total;
    out[1] = after / before / total - before / after / total;
    out[2] = before / after / total;
  });
}

/** Acceleration of the parabola through three places, at t[1] … t[n − 2]. */
export function threePointAccelerations(t: Float64Array, x: Float64Array): Float64Array {
  const accelerations = new Float64Array(Math.max(0, t.length - 2));
  for (let i = 0; i < accelerations.length; i++) {
    const speedBefore = (x[i + 1] - x[i]) / (t[i + 1] - t[i]);
    const speedAfter = (x[i + 2] - x[i + 1]) / (t[i + 2] - t[i + 1]);
    accelerations[i] = (2 * (speedAfter - speedBefore)) / (t[i + 2] - t[i]);
  }
  return accelerations;
}

/** How these accelerations answer to errors of the places. */
export function accelerationErrorsFromPlaces(t: Float64Array, places: SharedErrors): SharedErrors {
  return shareThree(places, (i, out) => {
    const before = t[i + 1] - t[i];
    const after = t[i + 2] - t[i + 1];
    const total = before + after;
    out[0] = 2 / (before * total);
    out[1] = -2 / (before * after);
    out[2] = 2 / (after * total);
  });
}

/** Rows that rest on three neighbouring rows of another column; none of that column's rows was left out. */
function shareThree(own: SharedErrors, weigh: (i: number, weights: Float64Array) => void): SharedErrors {
  return weighRows(own, 3, 3 * own.width, (i, weights) => {
    weigh(i, weights);
    return i;
  });
}
