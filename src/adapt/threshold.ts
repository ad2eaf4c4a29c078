import type { Setting } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { type AdaptCondition, marginAt } from './condition.ts';
import { findRoot } from './find-root.ts';
import type { Gauge } from './gauge.ts';
import { placesOf, type Variation } from './variation.ts';

/** A stretch of the varied quantity in which the condition is met, SI. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** Whether an end is where the condition begins or ceases to be met; otherwise it is an end of what was searched. */
  readonly begins: boolean;
  readonly ceases: boolean;
}

/** Where a condition is met. */
export interface ThresholdAnswer {
  readonly condition: AdaptCondition;
  readonly variation: Variation;
  /** In rising order; empty where it is met nowhere. For a list each value that meets it is a stretch of its own. */
  readonly stretches: readonly Stretch[];
  /** The measure at every place that was looked at first, SI. */
  readonly looked: readonly { readonly at: number; readonly value: number }[];
  /** Places where the lab could not be run, with the first reason. */
  readonly failed: number;
  readonly firstFailure: Problem | null;
}

export interface ThresholdOptions {
  /** Places of the first look; a stretch narrower than their distance can be missed. Default 33. */
  readonly places?: number;
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

/** Half-width to which an end of a stretch is found, as a share of the searched range. */
const THRESHOLD_TOLERANCE = 1e-9;

const USUAL_PLACES = 33;

/**
 * Where along one varied quantity a condition is met: looks at evenly spaced places, and solves for each change.
 *
 * @param fixed settings that hold throughout
 * @returns fails where the lab can be run nowhere in the range
 */
export function solveThreshold(
  gauge: Gauge,
  condition: AdaptCondition,
  variation: Variation,
  fixed: readonly Setting[] = [],
  options: ThresholdOptions = {},
): Outcome<ThresholdAnswer> {
  const { quantity } = variation;
  let firstFailure: Problem | null = null;
  let failed = 0;
  const margin = (value: number): number => {
    const found = marginAt(condition, gauge.at([...fixed, { quantity, value }]));
    if (found.ok) return found.value;
    firstFailure ??= found.problems[0] ?? null;
    return Number.NaN;
  };
  const places = placesOf(variation, options.places ?? USUAL_PLACES);
  const margins: number[] = [];
  for (const [index, place] of places.entries()) {
    if (options.signal?.aborted === true)
      return fail(problem('cancelled', {}, 'The computation was cancelled.'));
    const found = margin(place);
    if (Number.isNaN(found)) failed += 1;
    margins.push(found);
    options.progress?.(index + 1, places.length);
  }
  if (failed === places.length) {
    const { file } = gauge.pipeline.lab;
    const otherwise = `${condition.measure.text} is no number anywhere in the range of ${quantity.name}.`;
    return fail(firstFailure ?? problem('not-finite', { file }, otherwise));
  }
  const stretches =
    variation.kind === 'list'
      ? places.flatMap((at, index) =>
          margins[index] > 0 ? [{ from: at, to: at, begins: false, ceases: false }] : [],
        )
      : stretchesOf(places, margins, margin);
  const sign = condition.sense === 'below' ? -1 : 1;
  const looked = places.map((at, index) => ({ at, value: condition.limit + sign * margins[index] }));
  return succeed({ condition, variation, stretches, looked, failed, firstFailure });
}

/** Joins neighbouring places that meet the condition; where it changes between two, solves for the place. */
function stretchesOf(
  places: readonly number[],
  margins: readonly number[],
  margin: (value: number) => number,
): readonly Stretch[] {
  const tolerance = THRESHOLD_TOLERANCE * Math.abs((places[places.length - 1] ?? 0) - (places[0] ?? 0));
  const changeBetween = (index: number): number => {
    const [a, b] = [places[index] ?? 0, places[index + 1] ?? 0];
    const [fa, fb] = [margins[index] ?? Number.NaN, margins[index + 1] ?? Number.NaN];
    // What cannot be run does not meet the condition; the search then halves towards the last place that can.
    const at = (x: number) => {
      const value = margin(x);
      return Number.isNaN(value) ? -1 : value;
    };
    return findRoot(at, a, b, Number.isNaN(fa) ? -1 : fa, Number.isNaN(fb) ? -1 : fb, tolerance).at;
  };
  const stretches: Stretch[] = [];
  let open: { readonly from: number; readonly begins: boolean } | null = null;
  for (const [index, at] of places.entries()) {
    const isMet = (margins[index] ?? Number.NaN) > 0;
    if (isMet && open === null)
      open = index === 0 ? { from: at, begins: false } : { from: changeBetween(index - 1), begins: true };
    if (!isMet && open !== null) {
      stretches.push({ ...open, to: changeBetween(index - 1), ceases: true });
      open = null;
    }
  }
  const last = places[places.length - 1];
  if (open !== null && last !== undefined) stretches.push({ ...open, to: last, ceases: false });
  return stretches;
}
