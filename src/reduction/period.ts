import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, problem, succeed, warning } from '../problem/index.ts';
import { dimensionless } from '../quantity/index.ts';
import { sine } from '../wasm/index.ts';
import { axisOf, findNotFinite } from './fit-context.ts';
import { withoutUncertainty } from './formula.ts';
import { type Judgement, judgeFit, statedUncertainty } from './judge-fit.ts';
import { findPassages, type Passage, roughTime, sensitivityOfPassage, timeOfPassage } from './passages.ts';
import { reportOf } from './report-of.ts';
import { inWords, placeOfStep, windowSentence } from './run-place.ts';
import { withErrors } from './scalar-errors.ts';
import { SettingsReader } from './settings-reader.ts';
import type { RunState } from './state.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { denseTimes, stateAtTimes } from './true-rows.ts';
import { putTrueValue } from './true-run.ts';

const NAME = 'period';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What swings.', required: true },
  { kind: 'column expression', name: 'against', what: 'The time.', required: true },
  { kind: 'new names', name: 'gives', what: 'Name for the period.', required: true, least: 1, most: 1 },
  {
    kind: 'expression',
    name: 'level',
    what: 'Level whose passages are timed; the mean over whole swings where it is left out.',
    dimension: 'any',
    required: false,
    as: 'point',
  },
  {
    kind: 'count',
    name: 'swings',
    what: 'How many whole swings are timed, from the first passage on; fewer in the readings are a problem.',
    required: false,
    least: 1,
  },
  {
    kind: 'count',
    name: 'first',
    what: 'At most this many whole swings are timed, from the first passage on.',
    required: false,
    least: 1,
  },
];

/**
 * Period of a swing, from the times at which it passes a level.
 *
 * Passages in both directions are timed; a straight line through their times, against half their number, has the
 * period for its slope, with an offset between the two directions, so that a level off the middle does no harm.
 * The uncertainty is from the scatter of the times about the line; with fewer than five passages it is from the
 * stated uncertainties of the readings, where there are any.
 */
export const period: ReductionStep = {
  name: NAME,
  what: 'The period of a swing, from a straight line through the times at which it passes its mean level.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const against = read.columnFormula('against');
    const name = read.newName('gives');
    const level = of === null ? null : read.number('level', { dimension: of.dimension, what: 'the level' });
    const swings = read.count('swings', 1);
    const first = read.count('first', 1);
    read.requireSameRows('of', of?.rows, 'against', against?.rows);
    if (read.hasProblem || of === null || against === null || name === null) return fail(...read.problems);
    const words = `${NAME} of ${inWords(of.text)}`;
    const { dimension } = against;
    const most = 2 * Math.min(swings ?? Infinity, first ?? Infinity) + 1;
    const run = (state: RunState, quantities: Float64Array): Outcome<void> => {
      const y = of.column(state, quantities);
      const t = against.values(state, quantities);
      const place = placeOfStep(words, state);
      const found = [
        findNotFinite(inWords(of.text), y.values, place),
        findNotFinite(inWords(against.text), t, place),
      ].filter((each) => each !== null);
      if (found.length > 0) return fail(...found);
      const height = level === null ? meanLevel(t, y.values) : level.valueAt(quantities);
      const passages = findPassages(y.values, height);
      const whole = Math.max(0, Math.floor((passages.length - 1) / 2));
      const needed = swings ?? 1;
      if (whole < needed) {
        const has = whole === 1 ? '1 whole swing is' : `${whole === 0 ? 'no' : whole} whole swings are`;
        const wants = needed === 1 ? 'one is needed' : `${needed} are asked for`;
        const message = `${has} in the readings; ${wants}.${windowSentence(of.rows.windows)}`;
        return fail(problem('too-few-swings', place, message, 'Record for longer.'));
      }
      const used = passages.slice(0, Math.min(most, passages.length));
      const times = Float64Array.from(used, (passage) => timeOfPassage(t, y.values, height, passage));
      const line = lineThrough(times);
      if (!state.findsUncertainties) {
        state.scalars.set(name, withoutUncertainty(line.period, dimension));
        return succeed(undefined);
      }
      const judgement = judgePeriod(used, line, t, y, place);
      const u = Math.sqrt(judgement.covariance[line.design.length ** 2 - 1]);
      const errors = Number.isNaN(u)
        ? [{ source: { degreesOfFreedom: 1 }, coefficients: Float64Array.of(Number.NaN) }]
        : [{ source: { degreesOfFreedom: judgement.degreesOfFreedom }, coefficients: Float64Array.of(u) }];
      const scalar = withErrors(line.period, dimension, u === 0 ? [] : errors);
      state.scalars.set(name, scalar);
      state.notes.push(...judgement.notes);
      if (state.keepsReports) {
        state.fits.push(
          reportOf({
            state,
            words,
            step: NAME,
            x: axisOf('number of swings', columnOfNumbers(line.design[2])),
            y: axisOf('time of passage', { name: 't', values: line.times, dimension, u: 0 }),
            names: [name],
            scalars: [scalar],
            residuals: line.times.map((time, j) => time - line.fitted[j]),
            judgement: { ...judgement, covariance: Float64Array.of(u * u) },
          }),
        );
      }
      return succeed(undefined);
    };
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: [{ name, dimension }] },
      quantitiesRead: new Set([
        ...of.quantitiesRead,
        ...against.quantitiesRead,
        ...(level?.quantitiesRead ?? []),
      ]),
      readsUncertainties: false,
      exact: {
        canShift: true,
        put(state, truth, quantities) {
          const rows = truth.rows.get(of.like);
          if (rows === undefined) return;
          const dense = stateAtTimes(state, rows, denseTimes(state, rows));
          if (run(dense, quantities).ok)
            putTrueValue(state, name, dense.scalars.get(name)?.value ?? Number.NaN);
        },
      },
      run,
    });
  },
};

/** The mean over whole swings, which begin and end where the readings pass the mean. */
function meanLevel(t: Float64Array, y: Float64Array): number {
  const lowest = smallest(y);
  const highest = largest(y);
  let level = 0.5 * (lowest + highest);
  for (let round = 0; round < 3; round++) {
    const passages = findPassages(y, level);
    const whole = 2 * Math.floor((passages.length - 1) / 2);
    if (whole < 2) return level;
    const from = roughTime(t, y, level, passages[0]);
    const better = meanBetween(t, y, from, roughTime(t, y, level, passages[whole]), whole >= 4);
    if (!(Math.abs(better - level) > 1e-9 * (highest - lowest))) return level;
    level = better;
  }
  return level;
}

/**
 * Mean over time between two times, by the trapezoidal rule on the rows between.
 *
 * @param tapered whether the weight rises from 0 at the ends to the middle as sin²: over two whole swings or more
 * this mean is that of the middle of the swing even where it dies away
 */
function meanBetween(t: Float64Array, y: Float64Array, from: number, to: number, tapered: boolean): number {
  let integral = 0;
  let total = 0;
  for (let i = 1; i < t.length; i++) {
    if (t[i - 1] < from || t[i] > to) continue;
    const middle = 0.5 * (t[i] + t[i - 1]);
    const weight = tapered ? sine((Math.PI * (middle - from)) / (to - from)) ** 2 : 1;
    integral += weight * 0.5 * (y[i] + y[i - 1]) * (t[i] - t[i - 1]);
    total += weight * (t[i] - t[i - 1]);
  }
  return integral / total;
}

interface PassageLine {
  readonly period: number;
  readonly design: readonly Float64Array[];
  readonly times: Float64Array;
  readonly fitted: Float64Array;
}

/**
 * Least squares of t = a + b·(falls) + period·number/2: the slope within the two directions.
 *
 * The design's last column is that of the period.
 */
function lineThrough(times: Float64Array): PassageLine {
  const n = times.length;
  const half = Float64Array.from({ length: n }, (_, j) => j / 2);
  const isEven = (j: number) => j % 2 === 0;
  let numbersMoment = 0;
  let timesMoment = 0;
  const means = [true, false].map((even) => {
    let count = 0;
    let number = 0;
    let time = 0;
    for (let j = 0; j < n; j++) {
      if (isEven(j) !== even) continue;
      count += 1;
      number += half[j];
      time += times[j] - times[0];
    }
    return { number: number / count, time: time / count };
  });
  const meansOf = (j: number) => means[j % 2];
  for (let j = 0; j < n; j++) {
    const { number, time } = meansOf(j);
    numbersMoment += (half[j] - number) ** 2;
    timesMoment += (half[j] - number) * (times[j] - times[0] - time);
  }
  const found = timesMoment / numbersMoment;
  return {
    period: found,
    times,
    design: [
      Float64Array.from({ length: n }, (_, j) => (isEven(j) ? 1 : 0)),
      Float64Array.from({ length: n }, (_, j) => (isEven(j) ? 0 : 1)),
      half,
    ],
    fitted: Float64Array.from(
      { length: n },
      (_, j) => times[0] + meansOf(j).time + found * (half[j] - meansOf(j).number),
    ),
  };
}

function judgePeriod(
  passages: readonly Passage[],
  line: PassageLine,
  t: Float64Array,
  y: Column,
  place: Place,
): Judgement {
  const residuals = line.times.map((time, j) => time - line.fitted[j]);
  if (passages.length >= 5) {
    return judgeFit({ design: line.design, residuals, statedU: null, shared: null, place });
  }
  const stated = statedUncertainty(y);
  if (stated !== null) {
    // Alike weights keep the unweighted line; what is stated only sets the size.
    const squares = passages.map(
      (passage, j) => (stated[passage.left] * sensitivityOfPassage(t, y.values, passage, line.times[j])) ** 2,
    );
    const mean = squares.reduce((sum, square) => sum + square, 0) / squares.length;
    const statedU = new Float64Array(passages.length).fill(Math.sqrt(mean));
    return judgeFit({ design: line.design, residuals, statedU, shared: null, place });
  }
  return {
    covariance: new Float64Array(9).fill(Number.NaN),
    degreesOfFreedom: 1,
    reducedChiSquare: null,
    uncertaintyFrom: 'scatter',
    statement: 'So few passages tell no uncertainty, and for the readings none is stated.',
    notes: [
      warning(
        'no-uncertainty',
        place,
        `${passages.length} passages of the level tell the period but not its uncertainty; at least 5 do.`,
        'Record more swings, or state the noise of the instrument.',
      ),
    ],
  };
}

function columnOfNumbers(values: Float64Array): Column {
  return { name: 'number', values, dimension: dimensionless, u: 0 };
}

function largest(values: Float64Array): number {
  let found = Number.NEGATIVE_INFINITY;
  for (const value of values) found = Math.max(found, value);
  return found;
}

function smallest(values: Float64Array): number {
  let found = Number.POSITIVE_INFINITY;
  for (const value of values) found = Math.min(found, value);
  return found;
}
