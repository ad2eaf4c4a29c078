import type { Setting } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import type { Gauge } from './gauge.ts';
import type { Measure } from './measure.ts';
import { placesOf, type Variation } from './variation.ts';

/** Measures over one or two varied quantities. */
export interface MeasureMap {
  /** One or two. */
  readonly variations: readonly Variation[];
  /** Values of each varied quantity, SI. */
  readonly places: readonly (readonly number[])[];
  readonly measures: readonly Measure[];
  /** For each measure its values, the first variation outer and the second inner; NaN where it cannot be had. SI. */
  readonly values: readonly Float64Array[];
  /** Places where something could not be worked out, with the first reason. */
  readonly failed: number;
  readonly firstFailure: Problem | null;
}

export interface MapOptions {
  /** Places along a range; default 17 for one quantity, 9 for two. */
  readonly places?: number;
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

const USUAL_PLACES = [17, 9] as const;

/** Most places of a map: each may be rehearsed many times. */
const MOST_PLACES = 10_000;

/**
 * Works measures out over one or two varied quantities.
 *
 * @returns fails where the lab can be run at no place of the map
 */
export function mapMeasures(
  gauge: Gauge,
  measures: readonly Measure[],
  variations: readonly Variation[],
  fixed: readonly Setting[] = [],
  options: MapOptions = {},
): Outcome<MeasureMap> {
  const { file } = gauge.pipeline.lab;
  const count = options.places ?? USUAL_PLACES[variations.length > 1 ? 1 : 0];
  const places = variations.map((variation) => placesOf(variation, count));
  const spots = settingsOver(variations, places);
  if (spots.length > MOST_PLACES) {
    const message = `The map has ${spots.length} places; it may have at most ${MOST_PLACES}.`;
    return fail(problem('usage', { file }, message, 'Vary fewer values.'));
  }
  const values = measures.map(() => new Float64Array(spots.length).fill(Number.NaN));
  const failures: Problem[] = [];
  for (const [index, settings] of spots.entries()) {
    if (options.signal?.aborted === true)
      return fail(problem('cancelled', { file }, 'The computation was cancelled.'));
    const spot = gauge.at([...fixed, ...settings]);
    const found = measures.map((measure) => measure.evaluate(spot));
    found.forEach((value, measure) => {
      if (value.ok) values[measure][index] = value.value;
    });
    const [first] = found.flatMap((value) => (value.ok ? [] : value.problems));
    if (first !== undefined) failures.push(first);
    options.progress?.(index + 1, spots.length);
  }
  const [firstFailure = null] = failures;
  if (firstFailure !== null && failures.length === spots.length && values.every(isEmpty))
    return fail(firstFailure);
  return succeed({ variations, places, measures, values, failed: failures.length, firstFailure });
}

function isEmpty(values: Float64Array): boolean {
  return values.every((value) => Number.isNaN(value));
}

/** Every combination of the varied values, the last variation fastest. */
function settingsOver(
  variations: readonly Variation[],
  places: readonly (readonly number[])[],
): readonly (readonly Setting[])[] {
  return variations.reduce<readonly (readonly Setting[])[]>(
    (before, { quantity }, index) =>
      before.flatMap((settings) => (places[index] ?? []).map((value) => [...settings, { quantity, value }])),
    [[]],
  );
}
