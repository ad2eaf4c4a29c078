import type { LabResult, Slip } from '../lab/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import { applySlips } from './apply-slips.ts';
import type { TakenRuns } from './bench.ts';
import { type Cause, type Hypothesis, type Prediction, UNKNOWN_SPREAD } from './hypotheses.ts';
import { logStudentDensity } from './joint-density.ts';
import type { Marker } from './prepare-marker.ts';

/** One reported number, SI. */
export interface ReportedNumber {
  readonly result: LabResult;
  readonly value: number;
  /** Standard uncertainty that the reporter states, and that of the rounding of the written digits; 0 for none. */
  readonly standardUncertainty: number;
}

/** A cause with its likelihood. */
export interface RankedCause {
  readonly cause: Cause;
  /** Posterior share, 0 to 1: of all that is considered, how much speaks for this cause. */
  readonly share: number;
  /** What it would give for each reported number, in their order, SI. */
  readonly gives: readonly number[];
}

/** A report, marked. */
export interface MarkedReport {
  readonly numbers: readonly ReportedNumber[];
  /** All causes, the likeliest first. */
  readonly causes: readonly RankedCause[];
  /** For each number whether it lies in the central 95 % of rehearsals, and that band, SI. */
  readonly bands: readonly { readonly low: number; readonly high: number; readonly isWithin: boolean }[];
  /** What the data give when they are reduced as they should be, in the order of the numbers; null without data. */
  readonly fromData: readonly number[] | null;
}

/** With the readings at hand, what is left open between a reduction and its repetition by hand, relative. */
const REPEATABILITY = 2e-3;

/** Degrees of freedom of "nothing known": tails that hold anything. */
const UNKNOWN_FREEDOM = 3;

/**
 * Ranks what would produce reported numbers.
 *
 * The likelihood of a cause is the density of Student's t around its prediction, with the covariance of its
 * rehearsals and the reporter's own uncertainty; posterior shares are prior times likelihood, over their sum. With
 * the readings at hand a slip of the reckoning is applied to them, so that only their repetition is left open, and
 * the readings themselves are held against what is expected of them.
 *
 * @returns fails where a number is reported that a group cannot find at its station
 */
export function markReport(
  marker: Marker,
  numbers: readonly ReportedNumber[],
  data: TakenRuns | null = null,
): Outcome<MarkedReport> {
  const { bench, hypotheses, band } = marker;
  const { results } = bench.pipeline.lab;
  const places = numbers.map(({ result }) => results.indexOf(result));
  const beyond = numbers.filter((_, index) => Number.isNaN(marker.correct.centre[places[index] ?? 0]));
  if (beyond.length > 0)
    return fail(
      ...beyond.map(({ result }) =>
        problem(
          'not-at-one-station',
          { file: bench.pipeline.lab.file },
          `${result.name} takes runs under several settings, and this station has only its own.`,
          'Mark what single runs give, or leave the station out for a group that took the whole plan.',
        ),
      ),
    );
  const reduced = data === null ? null : bench.reduce(data);
  if (reduced !== null && !reduced.ok) return reduced;
  const proper = reduced?.value.values ?? null;
  const scored = hypotheses.map((hypothesis) =>
    data === null || proper === null
      ? scoreAlone(hypothesis, marker, numbers, places)
      : scoreWithData(hypothesis, marker, numbers, places, data, proper),
  );
  const largest = Math.max(...scored.map(({ logWeight }) => logWeight));
  const weights = scored.map(({ logWeight }) => Math.exp(logWeight - largest));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const causes = scored
    .map(({ cause, gives }, index) => ({ cause, gives, share: (weights[index] ?? 0) / total }))
    .sort((a, b) => b.share - a.share);
  return succeed({
    numbers,
    causes,
    bands: numbers.map(({ value }, index) => {
      const { low, high } = band[places[index] ?? 0] ?? { low: Number.NaN, high: Number.NaN };
      return { low, high, isWithin: value >= low && value <= high };
    }),
    fromData: proper === null ? null : places.map((place) => proper[place]),
  });
}

interface Scored {
  readonly cause: Cause;
  readonly gives: readonly number[];
  readonly logWeight: number;
}

function scoreAlone(
  hypothesis: Hypothesis,
  marker: Marker,
  numbers: readonly ReportedNumber[],
  places: readonly number[],
): Scored {
  const y = Float64Array.from(numbers, ({ value }) => value);
  const own = numbers.map(({ standardUncertainty }) => standardUncertainty);
  return scorePredictions(
    hypothesis,
    (prediction) =>
      hypothesis.cause.kind === 'unknown'
        ? unknownDensity(y, prediction, places)
        : densityAt(y, own, prediction, places, marker.freedom),
    places,
  );
}

/** The mean over the predictions of a cause; the best of them says what it gives. */
function scorePredictions(
  { cause, centres, prior }: Hypothesis,
  logDensity: (prediction: Prediction) => number,
  places: readonly number[],
): Scored {
  const logs = centres.map(logDensity);
  const largest = Math.max(...logs);
  const best = centres[logs.indexOf(largest)] ?? centres[0];
  const sum = logs.reduce((total, log) => total + Math.exp(log - largest), 0);
  const isNowhere = largest === Number.NEGATIVE_INFINITY;
  return {
    cause: cause.kind === 'effect' ? { ...cause, times: best.times } : cause,
    gives: places.map((place) => best.centre[place]),
    logWeight: isNowhere ? largest : Math.log(prior) + largest + Math.log(sum / centres.length),
  };
}

function densityAt(
  y: Float64Array,
  own: readonly number[],
  { centre, covariance }: Prediction,
  places: readonly number[],
  freedom: number,
): number {
  const m = places.length;
  const all = centre.length;
  const part = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) part[i * m + j] = covariance[(places[i] ?? 0) * all + (places[j] ?? 0)];
    part[i * m + i] += (own[i] ?? 0) ** 2;
  }
  return logStudentDensity(
    y,
    Float64Array.from(places, (place) => centre[place]),
    part,
    freedom,
  );
}

function unknownDensity(
  y: Float64Array,
  { centre, covariance }: Prediction,
  places: readonly number[],
): number {
  const all = centre.length;
  return places.reduce((sum, place, index) => {
    const spread = UNKNOWN_SPREAD * Math.abs(centre[place]) + 3 * Math.sqrt(covariance[place * all + place]);
    const one = Float64Array.of(spread ** 2);
    return (
      sum +
      logStudentDensity(y.subarray(index, index + 1), Float64Array.of(centre[place]), one, UNKNOWN_FREEDOM)
    );
  }, 0);
}

function scoreWithData(
  hypothesis: Hypothesis,
  marker: Marker,
  numbers: readonly ReportedNumber[],
  places: readonly number[],
  data: TakenRuns,
  proper: Float64Array,
): Scored {
  const { bench, correct, freedom } = marker;
  const { cause } = hypothesis;
  const everywhere = Array.from(proper.keys()).filter((index) => Number.isFinite(proper[index]));
  const nothing = everywhere.map(() => 0);
  const found = Float64Array.from(everywhere, (place) => proper[place]);
  /** How well the reported numbers repeat what a reduction of these readings gives. */
  const repeats = (given: Float64Array): number =>
    numbers.reduce((sum, { value, standardUncertainty }, index) => {
      const expected = given[places[index] ?? 0];
      const spread = Math.hypot(REPEATABILITY * Math.abs(expected), standardUncertainty);
      return (
        sum +
        logStudentDensity(
          Float64Array.of(value),
          Float64Array.of(expected),
          Float64Array.of(spread ** 2),
          UNKNOWN_FREEDOM,
        )
      );
    }, 0);
  const fits = (prediction: Prediction): number => densityAt(found, nothing, prediction, everywhere, freedom);
  const slips = slipsOf(cause);
  const isReckoned = slips.length > 0 && slips.every(({ apparatus }) => apparatus.length === 0);
  if (isReckoned) {
    const slipped = applySlips(bench, slips, data);
    const given = slipped.ok ? slipped.value.values : null;
    return {
      cause,
      gives: places.map((place) => given?.[place] ?? Number.NaN),
      logWeight:
        given === null || !everywhere.every((place) => Number.isFinite(given[place]))
          ? Number.NEGATIVE_INFINITY
          : Math.log(hypothesis.prior) + fits(correct) + repeats(given),
    };
  }
  if (cause.kind === 'unknown') {
    const y = Float64Array.from(numbers, ({ value }) => value);
    const spread = unknownDensity(y, { ...correct, centre: proper }, places);
    const ofData = unknownDensity(found, correct, everywhere);
    return {
      cause,
      gives: places.map((place) => correct.centre[place]),
      logWeight: Math.log(hypothesis.prior) + spread + ofData,
    };
  }
  // The readings are as the cause makes them, and they are reduced as they should be.
  const scored = scorePredictions(hypothesis, fits, places);
  return { ...scored, logWeight: scored.logWeight + repeats(proper) };
}

function slipsOf(cause: Cause): readonly Slip[] {
  return cause.kind === 'slip' ? [cause.slip] : cause.kind === 'pair' ? cause.slips : [];
}
