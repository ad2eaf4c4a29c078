import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, type Problem, succeed, warning } from '../problem/index.ts';
import { axisOf, errorsOfResiduals, findNotFinite, findTooFew } from './fit-context.ts';
import { withoutUncertainty } from './formula.ts';
import { type Judgement, judgeFit, statedUncertainty } from './judge-fit.ts';
import { rowNumbers } from './law.ts';
import { KeptColumn } from './lazy-column.ts';
import { fitParabola, type Parabola, rowOfTop } from './parabola.ts';
import { reportOf } from './report-of.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { withErrors } from './scalar-errors.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ErrorPart, RunState } from './state.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { largestOverTime } from './true-rows.ts';
import { putTrueValue, trueFormula } from './true-run.ts';

const NAME = 'peak';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What is largest at the peak.', required: true },
  {
    kind: 'new names',
    name: 'gives',
    what: 'Name for the largest value.',
    required: true,
    least: 1,
    most: 1,
  },
  {
    kind: 'choice',
    name: 'by',
    what: 'Whether the largest reading is taken (reading), or the top of a parabola through the readings around it (parabola).',
    required: false,
    options: ['reading', 'parabola'],
    default: 'reading',
  },
  {
    kind: 'column expression',
    name: 'against',
    what: 'The time, for a parabola; readings are taken as evenly spaced where it is left out.',
    required: false,
  },
  {
    kind: 'count',
    name: 'points',
    what: 'How many readings the parabola goes through, an odd number; 3 where it is left out.',
    required: false,
    least: 3,
    default: 3,
  },
];

/**
 * The largest value of a column.
 *
 * By reading, u is the stated uncertainty of the one largest reading. It holds where one reading stands out; of
 * several that are alike within their noise the largest is too high, which a note says. By parabola, u is that
 * of the parabola's top: from the scatter about it with five readings or more, else from the stated
 * uncertainties.
 */
export const peak: ReductionStep = {
  name: NAME,
  what: 'The largest value of a column.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const against = read.columnFormula('against');
    const name = read.newName('gives');
    const by = read.choice('by', ['reading', 'parabola']) ?? 'reading';
    const points = read.count('points', 3) ?? 3;
    if (points % 2 === 0) {
      read.tell(
        'wrong-form',
        'points',
        `"points" is ${points}; it must be odd, so that the largest is in the middle.`,
      );
    }
    read.requireSameRows('of', of?.rows, 'against', against?.rows);
    if (read.hasProblem || of === null || name === null) return fail(...read.problems);
    const words = `${NAME} of ${inWords(of.text)}`;
    const { dimension } = of;
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: [{ name, dimension }] },
      quantitiesRead: new Set([...of.quantitiesRead, ...(against?.quantitiesRead ?? [])]),
      readsUncertainties: false,
      ...(by === 'reading' && { onRows: [{ kind: 'largest', like: of.like, of: of.tree, gives: name }] }),
      exact: {
        canShift: true,
        put(state, truth, quantities) {
          const known = trueFormula(of, state, truth, quantities);
          if (known !== null) putTrueValue(state, name, largestOverTime(state, known.rows, known.column));
        },
      },
      run(state, quantities): Outcome<void> {
        const column = of.column(state, quantities);
        const place = placeOfStep(words, state);
        const needed = by === 'reading' ? 1 : points;
        const found = [
          findTooFew(
            column.values.length,
            needed,
            by === 'reading' ? 'a peak' : 'the parabola',
            of.rows,
            place,
          ),
          findNotFinite(inWords(of.text), column.values, place),
        ].filter((each) => each !== null);
        if (found.length > 0) return fail(...found);
        if (by === 'reading') {
          peakByReading(state, name, column, place);
          return succeed(undefined);
        }
        const x = against === null ? rowNumbers(column.values.length) : against.column(state, quantities);
        peakByParabola(
          state,
          { name, words, text: of.text, xText: against?.text ?? 'row' },
          column,
          x,
          points,
          place,
        );
        return succeed(undefined);
      },
    });
  },
};

function peakByReading(state: RunState, name: string, column: Column, place: Place): void {
  const { values, dimension } = column;
  let top = 0;
  for (let i = 1; i < values.length; i++) if (values[i] > values[top]) top = i;
  if (!state.findsUncertainties) {
    state.scalars.set(name, withoutUncertainty(values[top], dimension));
    return;
  }
  const u = statedUncertainty(column)?.[top] ?? 0;
  state.scalars.set(name, withErrors(values[top], dimension, errorsOfSize(u, Infinity)));
  const rivals = values.reduce((count, value) => (value > values[top] - 2 * u ? count + 1 : count), -1);
  if (u > 0 && rivals > 0) {
    const readings = rivals === 1 ? '1 other reading is' : `${rivals} other readings are`;
    state.notes.push(
      warning(
        'peak-among-noise',
        place,
        `${readings} within twice the uncertainty of the largest: the largest of several noisy readings is too high.`,
        'Take "by: parabola" with as many points as the top is wide.',
      ),
    );
  }
}

interface ParabolaNames {
  readonly name: string;
  readonly words: string;
  readonly text: string;
  readonly xText: string;
}

function peakByParabola(
  state: RunState,
  names: ParabolaNames,
  column: Column,
  x: Column,
  points: number,
  place: Place,
): void {
  const { dimension } = column;
  const half = (points - 1) / 2;
  const last = column.values.length - 1 - half;
  const middle = Math.min(Math.max(rowOfTop(column.values, points), half), last);
  const rows = Int32Array.from({ length: points }, (_, i) => middle - half + i);
  const around = new KeptColumn(column, rows);
  const places = new KeptColumn(x, rows);
  const parabola = fitParabola(places.values, around.values);
  if (!(parabola.curvature < 0)) {
    state.notes.push(notATop(place));
    peakByReading(state, names.name, column, place);
    return;
  }
  if (!state.findsUncertainties) {
    state.scalars.set(names.name, withoutUncertainty(parabola.top, dimension));
    return;
  }
  const judgement = judgeTop(parabola, around, place);
  let variance = 0;
  for (let a = 0; a < 3; a++) {
    for (let b = 0; b < 3; b++) {
      variance += parabola.gradient[a] * judgement.covariance[a * 3 + b] * parabola.gradient[b];
    }
  }
  const u = Math.sqrt(variance);
  const scalar = withErrors(parabola.top, dimension, errorsOfSize(u, judgement.degreesOfFreedom));
  state.scalars.set(names.name, scalar);
  state.notes.push(...judgement.notes);
  if (!state.keepsReports) return;
  state.fits.push(
    reportOf({
      state,
      words: names.words,
      step: NAME,
      x: axisOf(names.xText, places),
      y: axisOf(names.text, around),
      names: [names.name],
      scalars: [scalar],
      residuals: parabola.residuals,
      judgement: { ...judgement, covariance: Float64Array.of(variance) },
    }),
  );
}

function judgeTop(parabola: Parabola, around: Column, place: Place): Judgement {
  const stated = statedUncertainty(around);
  if (around.values.length >= 5 || stated !== null) {
    return judgeFit({
      design: parabola.design,
      residuals: parabola.residuals,
      statedU: around.values.length < 5 ? stated : null,
      shared: errorsOfResiduals(around, null, null),
      place,
    });
  }
  return {
    covariance: new Float64Array(9),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    reducedChiSquare: null,
    uncertaintyFrom: 'stated',
    statement: 'For the readings no uncertainty is stated, and a parabola through three of them tells none.',
    notes: [],
  };
}

function notATop(place: Place): Problem {
  return warning(
    'not-a-top',
    place,
    'the parabola through the readings around the largest has no top, as where a signal breaks off at its peak; the largest reading is taken.',
    'Take "by: reading".',
  );
}

function errorsOfSize(u: number, degreesOfFreedom: number): ErrorPart[] {
  return u === 0 ? [] : [{ source: { degreesOfFreedom }, coefficients: Float64Array.of(u) }];
}
