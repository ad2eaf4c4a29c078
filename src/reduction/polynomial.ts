import { fitPolynomial } from '../inference/index.ts';
import { fail, type Outcome, succeed } from '../problem/index.ts';
import { divideDimensions, raiseDimension } from '../quantity/index.ts';
import { power } from '../wasm/index.ts';
import { axisOf, errorsOfResiduals, findNotFinite, findTooFew, nothingStated } from './fit-context.ts';
import { withoutUncertainty } from './formula.ts';
import { judgeFit, statedUncertainty } from './judge-fit.ts';
import { reportOf } from './report-of.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { scalarsOfFit } from './scalar-errors.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

const NAME = 'polynomial';
const HIGHEST_DEGREE = 12;

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What goes up: the ordinate.', required: true },
  {
    kind: 'column expression',
    name: 'against',
    what: 'What goes to the right: the abscissa.',
    required: true,
  },
  { kind: 'count', name: 'degree', what: 'Highest power.', required: true, least: 0 },
  {
    kind: 'new names',
    name: 'gives',
    what: 'Names for the coefficients, the lowest power first; one more than the degree.',
    required: true,
    least: 1,
    most: HIGHEST_DEGREE + 1,
  },
  {
    kind: 'choice',
    name: 'weights',
    what: 'Whether each reading counts by its stated uncertainty (stated) or all alike (none).',
    required: false,
    options: ['none', 'stated'],
    default: 'none',
  },
];

/** A polynomial through the readings; its uncertainty as that of `line`. */
export const polynomial: ReductionStep = {
  name: NAME,
  what: 'A polynomial through the readings.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const against = read.columnFormula('against');
    const degree = read.count('degree', 0);
    const names = read.newNames('gives', 1, HIGHEST_DEGREE + 1);
    const weights = read.choice('weights', ['none', 'stated']) ?? 'none';
    if (degree !== null && degree > HIGHEST_DEGREE) {
      read.tell('wrong-form', 'degree', `"degree" is ${degree}; it must be at most ${HIGHEST_DEGREE}.`);
    } else if (degree !== null && names !== null && names.length !== degree + 1) {
      const message = `"gives" has ${names.length} names; a polynomial of degree ${degree} has ${degree + 1} coefficients.`;
      read.tell('wrong-form', 'gives', message);
    }
    read.requireSameRows('of', of?.rows, 'against', against?.rows);
    if (read.hasProblem || of === null || against === null || degree === null || names === null) {
      return fail(...read.problems);
    }
    const words = `${NAME} of ${inWords(of.text)} against ${inWords(against.text)}`;
    const dimensions = names.map((_, power) =>
      divideDimensions(of.dimension, raiseDimension(against.dimension, power)),
    );
    const needed = weights === 'none' ? degree + 2 : degree + 1;
    return succeed({
      name: NAME,
      words,
      gives: {
        columns: [],
        scalars: names.map((name, power) => ({ name, dimension: dimensions[power] })),
      },
      quantitiesRead: new Set([...of.quantitiesRead, ...against.quantitiesRead]),
      readsUncertainties: weights === 'stated',
      run(state, quantities): Outcome<void> {
        const x = against.column(state, quantities);
        const y = of.column(state, quantities);
        const place = placeOfStep(words, state);
        const found = [
          findTooFew(x.values.length, needed, `a polynomial of degree ${degree}`, of.rows, place),
          findNotFinite(inWords(of.text), y.values, place),
          findNotFinite(inWords(against.text), x.values, place),
        ].filter((each) => each !== null);
        if (found.length > 0) return fail(...found);
        const stated = weights === 'stated' ? statedUncertainty(y) : null;
        if (weights === 'stated' && stated === null) return fail(nothingStated(inWords(of.text), place));
        const fit = fitPolynomial(
          x.values,
          y.values,
          degree,
          stated === null ? { place, names } : { place, names, uy: stated },
        );
        if (!fit.ok) return fit;
        const { parameters, residuals } = fit.value;
        if (!state.findsUncertainties) {
          names.forEach((name, j) => {
            state.scalars.set(name, withoutUncertainty(parameters[j], dimensions[j]));
          });
          return succeed(undefined);
        }
        const judgement = judgeFit({
          design: names.map((_, exponent) => x.values.map((value) => power(value, exponent))),
          residuals,
          statedU: stated,
          shared: errorsOfResiduals(y, x, slopesOf(parameters, x.values)),
          place,
        });
        const scalars = scalarsOfFit(
          parameters,
          dimensions,
          judgement.covariance,
          judgement.degreesOfFreedom,
        );
        names.forEach((name, j) => {
          state.scalars.set(name, scalars[j]);
        });
        state.notes.push(...fit.value.warnings, ...judgement.notes);
        if (state.keepsReports) {
          state.fits.push(
            reportOf({
              state,
              words,
              step: NAME,
              x: axisOf(against.text, x),
              y: axisOf(of.text, y),
              names,
              scalars,
              residuals,
              judgement,
            }),
          );
        }
        return succeed(undefined);
      },
    });
  },
};

/** Slope of the polynomial at each place. */
function slopesOf(coefficients: Float64Array, x: Float64Array): Float64Array {
  return x.map((value) => {
    let slope = 0;
    for (let power = coefficients.length - 1; power >= 1; power--)
      slope = slope * value + power * coefficients[power];
    return slope;
  });
}
