import { randomSource } from '../inference/index.ts';
import type { Pipeline, Setting, Slip } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { applySlips, canBeMadeTogether, handledBy } from './apply-slips.ts';
import { type Bench, createBench, type TakenRuns } from './bench.ts';
import { generalSlips } from './general-slips.ts';
import { type Cause, EFFECT_TIMES, type Hypothesis, type Prediction, withPriors } from './hypotheses.ts';
import { covarianceOf, meanOfRows } from './joint-density.ts';
import type { MarkingLanguage } from './language/index.ts';
import { differs, settleSlip } from './slip-results.ts';

/** What a station's reports are marked with. */
export interface Marker {
  readonly bench: Bench;
  readonly hypotheses: readonly Hypothesis[];
  /** What is expected where nothing goes wrong. */
  readonly correct: Prediction;
  /** Central 95 % of rehearsals of each result. */
  readonly band: readonly { readonly low: number; readonly high: number }[];
  /** Degrees of freedom of the covariances. */
  readonly freedom: number;
  /** Slips that apply to this lab, for a list. */
  readonly slips: readonly { readonly slip: Slip; readonly from: 'lab' | 'general' }[];
  /** Slips of the lab file that cannot be run, with their first reason. */
  readonly warnings: readonly Problem[];
}

export interface MarkerOptions {
  /** How often each prediction is rehearsed; default 60. */
  readonly rehearsals?: number;
  readonly seed?: number;
  /** In which the general slips are told; English where left out. */
  readonly language?: MarkingLanguage;
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

const USUAL_REHEARSALS = 60;

/** Most single slips of which pairs are made: 40 of them make 780 pairs. */
const MOST_PAIRED = 40;

/**
 * Rehearses what a station's group would report: with nothing wrong, with each slip, with pairs of slips and with
 * effects larger than assumed.
 *
 * The scatter of a single slip is rehearsed on the same readings as the right result; that of pairs and of larger
 * effects is taken to be as large, relative to the result, as where nothing is wrong.
 *
 * @returns fails where the station cannot be rehearsed at all
 */
export function prepareMarker(
  pipeline: Pipeline,
  set: readonly Setting[],
  options: MarkerOptions = {},
): Outcome<Marker> {
  const { lab } = pipeline;
  const bench = createBench(pipeline, set);
  const right = bench.takeRuns(pipeline.nominal, null);
  const properly = right.ok ? bench.reduce(right.value) : right;
  if (!right.ok) return right;
  if (!properly.ok) return properly;
  const { settled, warnings } = settleAll(bench, right.value, properly.value.values, options.language);
  const rehearsed = rehearse(bench, settled, properly.value.values, options);
  if (!rehearsed.ok) return rehearsed;
  const { rows, slipped } = rehearsed.value;
  const correct = predictionOf(rows);
  const singles = settled.flatMap(({ slip, from, centre }, index) => {
    const own = slipped[index] ?? [];
    // A slip whose rehearsals mostly fail would be noticed at the bench.
    if (own.length < rows.length / 2) return [];
    const prediction = { ...predictionOf(own), centre: meanOfRows(own, lab.results.length) };
    return [{ slip, from, centre, prediction }];
  });
  const visible = singles.filter(({ prediction }) => isVisible(prediction, correct));
  const distinct = visible.filter(
    (one, index) =>
      !visible
        .slice(0, index)
        .some(
          (earlier) =>
            earlier.from === 'lab' && one.from === 'general' && isSame(earlier.prediction, one.prediction),
        ),
  );
  const causes: { cause: Cause; centres: readonly Prediction[] }[] = [
    { cause: { kind: 'correct' }, centres: [correct] },
    ...distinct.map(({ slip, from, prediction }) => ({
      cause: { kind: 'slip' as const, slip, from },
      centres: [prediction],
    })),
    ...pairsOf(bench, right.value, distinct, correct, properly.value.values),
    ...effectsOf(bench, correct, properly.value.values),
    { cause: { kind: 'unknown' }, centres: [correct] },
  ];
  return succeed({
    bench,
    hypotheses: withPriors(causes),
    correct,
    band: lab.results.map((_, index) => bandOf(rows.map((row) => row[index]))),
    freedom: Math.max(rows.length - lab.results.length, 3),
    slips: distinct.map(({ slip, from }) => ({ slip, from })),
    warnings,
  });
}

interface Settled {
  readonly slip: Slip;
  readonly from: 'lab' | 'general';
  /** What the slip gives without noise. */
  readonly centre: Float64Array;
}

/** Every slip that changes a result, the lab's own first. */
function settleAll(
  bench: Bench,
  right: TakenRuns,
  properly: Float64Array,
  language: MarkingLanguage | undefined,
): { readonly settled: readonly Settled[]; readonly warnings: readonly Problem[] } {
  const { lab } = bench.pipeline;
  const warnings: Problem[] = [];
  const settled: Settled[] = [];
  for (const slip of lab.slips) {
    const found = settleSlip(bench, slip);
    if (!found.ok) {
      const [first] = found.problems;
      if (first !== undefined)
        warnings.push({
          ...first,
          severity: 'warning',
          message: `The slip "${slip.name}" is passed over: ${first.message}`,
        });
      continue;
    }
    const centre = Float64Array.from(found.value.results.results, ({ slipped }) => slipped);
    if (changes(properly, centre)) settled.push({ slip: found.value.slip, from: 'lab', centre });
  }
  for (const slip of generalSlips(lab, language)) {
    const found = applySlips(bench, [slip], right);
    // A general slip that does not fit this lab is none of its slips.
    if (!found.ok || !changes(properly, found.value.values)) continue;
    settled.push({ slip, from: 'general', centre: found.value.values });
  }
  return { settled, warnings };
}

function changes(properly: Float64Array, slipped: Float64Array): boolean {
  return isWhole(slipped, properly) && properly.some((value, index) => differs(value, slipped[index]));
}

/** Whether every result is there that a group finds at its station where nothing is wrong. */
function isWhole(values: Float64Array, properly: Float64Array): boolean {
  return values.every((value, index) => Number.isFinite(value) || Number.isNaN(properly[index]));
}

/** A slip that moves no result by more than its scatter cannot be told from no slip. */
function isVisible({ centre }: Prediction, correct: Prediction): boolean {
  const m = centre.length;
  return centre.some(
    (value, index) =>
      Math.abs(value - correct.centre[index]) > Math.sqrt(correct.covariance[index * m + index]),
  );
}

/** Below this share of the scatter two slips are one, told twice: once by the lab and once in general. */
const SAME = 0.3;

function isSame(one: Prediction, other: Prediction): boolean {
  const m = one.centre.length;
  return one.centre.every(
    (value, index) =>
      !(Math.abs(value - other.centre[index]) > SAME * Math.sqrt(one.covariance[index * m + index])),
  );
}

function isAlike(one: Float64Array, other: Float64Array): boolean {
  return one.every((value, index) => !differs(value, other[index]));
}

function rehearse(
  bench: Bench,
  settled: readonly Settled[],
  properly: Float64Array,
  options: MarkerOptions,
): Outcome<{
  readonly rows: readonly Float64Array[];
  readonly slipped: readonly (readonly Float64Array[])[];
}> {
  const rehearsals = options.rehearsals ?? USUAL_REHEARSALS;
  const random = randomSource(options.seed ?? 1);
  const rows: Float64Array[] = [];
  const slipped: Float64Array[][] = settled.map(() => []);
  let firstFailure: Problem | null = null;
  for (let index = 0; index < rehearsals; index++) {
    if (options.signal?.aborted === true)
      return fail(problem('cancelled', {}, 'The computation was cancelled.'));
    const stream = random.fork(index);
    const apparatus = bench.drawApparatus(stream.fork(-1));
    const runs = bench.takeRuns(apparatus, stream);
    const results = runs.ok ? bench.reduce(runs.value) : runs;
    if (!runs.ok || !results.ok) {
      firstFailure ??= (results.ok ? [] : results.problems)[0] ?? null;
      continue;
    }
    rows.push(results.value.values);
    settled.forEach(({ slip }, place) => {
      const taken =
        slip.apparatus.length === 0 ? runs : bench.takeRuns(apparatus, stream, undefined, handledBy([slip]));
      const found = taken.ok ? applySlips(bench, [slip], taken.value) : taken;
      if (found.ok && isWhole(found.value.values, properly)) slipped[place]?.push(found.value.values);
    });
    options.progress?.(index + 1, rehearsals);
  }
  if (rows.length < 4) {
    return fail(
      firstFailure ??
        problem('too-few-rehearsals', {}, 'Too few rehearsals could be reduced to say what is expected.'),
    );
  }
  return succeed({ rows, slipped });
}

function predictionOf(rows: readonly Float64Array[]): Prediction {
  const centre = meanOfRows(rows, rows[0]?.length ?? 0);
  return { centre, covariance: covarianceOf(rows, centre), times: 1 };
}

/** The right covariance, as large relative to the results as it is there. */
function scaledTo(centre: Float64Array, correct: Prediction): Float64Array {
  const m = centre.length;
  const factors = centre.map((value, index) => {
    const factor = Math.abs(value / correct.centre[index]);
    return Number.isFinite(factor) && factor > 0 ? factor : 1;
  });
  return correct.covariance.map(
    (value, index) => value * factors[Math.floor(index / m)] * factors[index % m],
  );
}

function pairsOf(
  bench: Bench,
  right: TakenRuns,
  singles: readonly { readonly slip: Slip; readonly centre: Float64Array }[],
  correct: Prediction,
  properly: Float64Array,
): { cause: Cause; centres: readonly Prediction[] }[] {
  const paired = singles.slice(0, MOST_PAIRED);
  return paired.flatMap(({ slip: one }, index) =>
    paired.slice(index + 1).flatMap(({ slip: other }) => {
      if (!canBeMadeTogether(one, other)) return [];
      const byHand = [one, other].filter(({ apparatus }) => apparatus.length > 0);
      const runs =
        byHand.length === 0
          ? succeed(right)
          : bench.takeRuns(bench.pipeline.nominal, null, undefined, handledBy(byHand));
      const found = runs.ok ? applySlips(bench, [one, other], runs.value) : runs;
      if (!found.ok || !changes(properly, found.value.values)) return [];
      // One that undoes the other, or hides it, is told by the simpler cause.
      const isSingle = singles.some(({ centre: own }) => isAlike(own, found.value.values));
      if (isSingle) return [];
      const centre = found.value.values;
      const prediction = { centre, covariance: scaledTo(centre, correct), times: 1 };
      return [{ cause: { kind: 'pair' as const, slips: [one, other] as const }, centres: [prediction] }];
    }),
  );
}

function effectsOf(
  bench: Bench,
  correct: Prediction,
  properly: Float64Array,
): { cause: Cause; centres: readonly Prediction[] }[] {
  const { pipeline } = bench;
  const { least, most, places } = EFFECT_TIMES;
  return pipeline.lab.effects.flatMap(({ name, off }) => {
    const centres = Array.from({ length: places }, (_, index) => {
      // Even in the logarithm: twice as large is as likely as half as large again twice.
      const times = least * (most / least) ** (index / (places - 1));
      const runs = bench.takeRuns(pipeline.nominal, null, undefined, (values) =>
        off.map(({ quantity, value }) => ({
          quantity,
          value: value + times * (values[quantity.index] - value),
        })),
      );
      const found = runs.ok ? bench.reduce(runs.value) : runs;
      if (!found.ok || !isWhole(found.value.values, properly)) return null;
      const shifted = found.value.values;
      // The rehearsed mean differs a little from the run without noise; an effect shifts both alike.
      const centre = shifted.map((value, place) => value + correct.centre[place] - properly[place]);
      return { centre, covariance: scaledTo(centre, correct), times };
    }).filter((prediction) => prediction !== null);
    const moves = centres.some(({ centre }) =>
      centre.some((value, index) => differs(value, correct.centre[index])),
    );
    return moves ? [{ cause: { kind: 'effect' as const, effect: name, times: 1 }, centres }] : [];
  });
}

function bandOf(values: readonly number[]): { readonly low: number; readonly high: number } {
  const sorted = [...values].sort((a, b) => a - b);
  const cut = Math.floor(0.025 * sorted.length);
  return { low: sorted[cut] ?? Number.NaN, high: sorted[sorted.length - 1 - cut] ?? Number.NaN };
}
