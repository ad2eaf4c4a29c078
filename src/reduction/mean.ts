import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, type Problem, succeed } from '../problem/index.ts';
import { errorsOfResiduals, findNotFinite, findTooFew, nothingStated } from './fit-context.ts';
import { withoutUncertainty } from './formula.ts';
import { type Judgement, judgeFit, statedUncertainty } from './judge-fit.ts';
import { KeptColumn } from './lazy-column.ts';
import { rowsWhere } from './rows.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { withErrors } from './scalar-errors.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ErrorPart } from './state.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { meanOverTime, narrowRows } from './true-rows.ts';
import { putTrueValue, trueFormula } from './true-run.ts';

const NAME = 'mean';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What the mean is taken of.', required: true },
  { kind: 'condition', name: 'while', what: 'Only rows where this is true count.', required: false },
  { kind: 'new names', name: 'gives', what: 'Name for the mean.', required: true, least: 1, most: 1 },
  {
    kind: 'choice',
    name: 'weights',
    what: 'Whether each reading counts by its stated uncertainty (stated) or all alike (none).',
    required: false,
    options: ['none', 'stated'],
    default: 'none',
  },
];

/**
 * Mean of a column, with its standard error.
 *
 * Without weights the uncertainty is from the scatter, and where the readings scatter less than the instrument's
 * resolution, the rounding, which does not average out, is added to it. With weights it is from the stated
 * uncertainties. One single reading has its stated uncertainty.
 */
export const mean: ReductionStep = {
  name: NAME,
  what: 'The mean of the readings.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const during = read.condition('while');
    const name = read.newName('gives');
    const weights = read.choice('weights', ['none', 'stated']) ?? 'none';
    read.requireSameRows('of', of?.rows, 'while', during?.rows);
    if (read.hasProblem || of === null || name === null) return fail(...read.problems);
    const words = `${NAME} of ${inWords(of.text)}`;
    const { dimension } = of;
    const rows = during === null ? of.rows : { ...of.rows, windows: [...of.rows.windows, during.text] };
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: [{ name, dimension }] },
      quantitiesRead: new Set([...of.quantitiesRead, ...(during?.quantitiesRead ?? [])]),
      readsUncertainties: weights === 'stated',
      ...(weights === 'none' && {
        onRows: [{ kind: 'mean', like: of.like, of: of.tree, where: during?.tree ?? null, gives: name }],
      }),
      exact: {
        canShift: true,
        put(state, truth, quantities) {
          const known = trueFormula(of, state, truth, quantities);
          if (known === null) return;
          const rows = during === null ? known.rows : narrowRows(state, known.rows, during, quantities);
          putTrueValue(state, name, meanOverTime(rows, known.column));
        },
      },
      run(state, quantities): Outcome<void> {
        const place = placeOfStep(words, state);
        const holds = during?.holds(state, quantities);
        const whole = of.column(state, quantities);
        const readings = holds === undefined ? whole : new KeptColumn(whole, rowsWhere(holds));
        const { values } = readings;
        const found = [
          findTooFew(values.length, 1, 'a mean', rows, place),
          findNotFinite(inWords(of.text), values, place),
        ].filter((each) => each !== null);
        if (found.length > 0) return fail(...found);
        if (!state.findsUncertainties && weights === 'none') {
          state.scalars.set(name, withoutUncertainty(meanOf(values), dimension));
          return succeed(undefined);
        }
        const stated = statedUncertainty(readings);
        if (weights === 'stated' && stated === null) return fail(nothingStated(inWords(of.text), place));
        const average = meanOf(values, weights === 'stated' ? stated : null);
        const judged = judgeMean(readings, average, weights === 'stated' ? stated : null, place);
        state.scalars.set(name, withErrors(average, dimension, judged.errors));
        state.notes.push(...judged.notes);
        return succeed(undefined);
      },
    });
  },
};

/** Mean, weighted by 1/u² where u is given; deviations from the first reading keep the digits. */
export function meanOf(values: Float64Array, u: Float64Array | null = null): number {
  const base = values[0];
  let sum = 0;
  let weights = 0;
  for (let i = 0; i < values.length; i++) {
    const weight = u === null ? 1 : 1 / u[i] ** 2;
    sum += weight * (values[i] - base);
    weights += weight;
  }
  return base + sum / weights;
}

function judgeMean(
  readings: Column,
  average: number,
  weightedBy: Float64Array | null,
  place: Place,
): { errors: readonly ErrorPart[]; notes: readonly Problem[] } {
  const { values } = readings;
  if (values.length === 1) {
    const u = statedUncertainty(readings)?.[0] ?? 0;
    return { errors: u > 0 ? [errorOf(u, Infinity)] : [], notes: [] };
  }
  const judgement: Judgement = judgeFit({
    design: [new Float64Array(values.length).fill(1)],
    residuals: values.map((value) => value - average),
    statedU: weightedBy,
    shared: errorsOfResiduals(readings, null, null),
    place,
  });
  const errors = [errorOf(Math.sqrt(judgement.covariance[0]), judgement.degreesOfFreedom)];
  const division = readings.division ?? 0;
  if (weightedBy === null && division > 0) {
    let squares = 0;
    for (const value of values) squares += (value - average) ** 2;
    const scatter = Math.sqrt(squares / (values.length - 1));
    // Noise above half a division makes rounding errors independent; below, all may be rounded the same way.
    if (scatter < division / 2) errors.push(errorOf(division / Math.sqrt(12), Infinity));
  }
  return { errors, notes: judgement.notes };
}

function errorOf(u: number, degreesOfFreedom: number): ErrorPart {
  return { source: { degreesOfFreedom }, coefficients: Float64Array.of(u) };
}
