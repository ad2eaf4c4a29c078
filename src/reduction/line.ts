import { type Fit, fitLine, fitLineInto, LINE } from '../inference/index.ts';
import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, problem, succeed, warning } from '../problem/index.ts';
import { divideDimensions } from '../quantity/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import { axisOf, errorsOfResiduals, findNotFinite, findTooFew, nothingStated } from './fit-context.ts';
import { withoutUncertainty } from './formula.ts';
import { type Judgement, judgeFit, statedUncertainty } from './judge-fit.ts';
import { reportOf } from './report-of.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { scalarsOfFit } from './scalar-errors.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

const NAME = 'line';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What goes up: the ordinate.', required: true },
  {
    kind: 'column expression',
    name: 'against',
    what: 'What goes to the right: the abscissa.',
    required: true,
  },
  { kind: 'new names', name: 'slope', what: 'Name for the slope.', required: false, least: 1, most: 1 },
  {
    kind: 'new names',
    name: 'intercept',
    what: 'Name for the intercept.',
    required: false,
    least: 1,
    most: 1,
  },
  {
    kind: 'choice',
    name: 'weights',
    what: 'Whether each reading counts by its stated uncertainty (stated) or all alike (none).',
    required: false,
    options: ['none', 'stated'],
    default: 'none',
  },
  {
    kind: 'choice',
    name: 'errors',
    what: 'Whether the ordinate alone carries errors (one) or the abscissa too (both); both needs stated uncertainties.',
    required: false,
    options: ['one', 'both'],
    default: 'one',
  },
];

/**
 * Straight line through the readings: unweighted, weighted by stated uncertainties, or with errors in both.
 *
 * Without weights the uncertainty is from the scatter; with weights it is from the stated uncertainties, never
 * scaled by reduced chi-square. Errors that readings share are taken into account (see `judgeFit`).
 */
export const line: ReductionStep = {
  name: NAME,
  what: 'A straight line through the readings.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const against = read.columnFormula('against');
    const slopeName = read.newName('slope');
    const interceptName = read.newName('intercept');
    const weights = read.choice('weights', ['none', 'stated']) ?? 'none';
    const errors = read.choice('errors', ['one', 'both']) ?? 'one';
    if (!read.has('slope') && !read.has('intercept')) {
      read.tell('missing-key', 'slope', '"line" needs a name for its slope or its intercept.');
    }
    if (slopeName !== null && slopeName === interceptName) {
      read.tell('name-taken', 'intercept', `${slopeName} is given twice.`);
    }
    read.requireSameRows('of', of?.rows, 'against', against?.rows);
    if (read.hasProblem || of === null || against === null) return fail(...read.problems);

    const words = `${NAME} of ${inWords(of.text)} against ${inWords(against.text)}`;
    const dimensions = [of.dimension, divideDimensions(of.dimension, against.dimension)];
    const names = [interceptName, slopeName];
    const needed = weights === 'none' && errors === 'one' ? 3 : 2;
    const lean = new Float64Array(6);

    return succeed({
      name: NAME,
      words,
      gives: {
        columns: [],
        scalars: names.flatMap((name, j) => (name === null ? [] : [{ name, dimension: dimensions[j] }])),
      },
      quantitiesRead: new Set([...of.quantitiesRead, ...against.quantitiesRead]),
      readsUncertainties: weights === 'stated' || errors === 'both',
      ...(weights === 'none' &&
        errors === 'one' && {
          onRows: [
            {
              kind: 'line',
              like: of.like,
              of: of.tree,
              against: against.tree,
              slope: slopeName,
              intercept: interceptName,
            },
          ],
        }),
      run(state, quantities): Outcome<void> {
        if (!state.findsUncertainties && weights === 'none' && errors === 'one') {
          const x = against.values(state, quantities);
          const y = of.values(state, quantities);
          if (x.length >= needed) {
            fitLineInto(x, y, x.length, lean);
            if (Number.isFinite(lean[LINE.slope])) {
              if (slopeName !== null) {
                state.scalars.set(slopeName, withoutUncertainty(lean[LINE.slope], dimensions[1]));
              }
              if (interceptName !== null) {
                state.scalars.set(interceptName, withoutUncertainty(lean[LINE.intercept], dimensions[0]));
              }
              return succeed(undefined);
            }
          }
        }
        const place = placeOfStep(words, state);
        const x = against.column(state, quantities);
        const y = of.column(state, quantities);
        const found = [
          findTooFew(x.values.length, needed, 'a line', of.rows, place),
          findNotFinite(inWords(of.text), y.values, place),
          findNotFinite(inWords(against.text), x.values, place),
        ].filter((each) => each !== null);
        if (found.length > 0) return fail(...found);
        const fitted = fitAsAsked(x, y, weights, errors, [of.text, against.text], place);
        if (!fitted.ok) return fitted;
        const { fit, judgement } = fitted.value;
        const scalars = scalarsOfFit(
          fit.parameters,
          dimensions,
          judgement.covariance,
          judgement.degreesOfFreedom,
        );
        names.forEach((name, j) => {
          if (name !== null) state.scalars.set(name, scalars[j]);
        });
        state.notes.push(...judgement.notes);
        if (state.keepsReports) {
          state.fits.push(
            reportOf({
              state,
              words,
              step: NAME,
              x: axisOf(against.text, x),
              y: axisOf(of.text, y),
              names: [interceptName ?? 'intercept', slopeName ?? 'slope'],
              scalars,
              residuals: fit.residuals,
              judgement,
            }),
          );
        }
        return succeed(undefined);
      },
    });
  },
};

function fitAsAsked(
  x: Column,
  y: Column,
  weights: string,
  errors: string,
  [yText, xText]: readonly string[],
  place: Place,
): Outcome<{ fit: Fit; judgement: Judgement }> {
  const uy = statedUncertainty(y);
  if (errors === 'both') return fitBoth(x, y, uy, [yText, xText], place);
  if (weights === 'stated' && uy === null) return fail(nothingStated(inWords(yText), place));
  const statedU = weights === 'stated' ? uy : null;
  const fit = fitLine(x.values, y.values, statedU === null ? { place } : { uy: statedU, place });
  if (!fit.ok) return fit;
  const slopes = new Float64Array(x.values.length).fill(fit.value.parameters[1]);
  const judgement = judgeFit({
    design: [new Float64Array(x.values.length).fill(1), x.values],
    residuals: fit.value.residuals,
    statedU,
    shared: errorsOfResiduals(y, x, slopes),
    place,
  });
  return succeed({ fit: fit.value, judgement });
}

function fitBoth(
  x: Column,
  y: Column,
  uy: Float64Array | null,
  [yText, xText]: readonly string[],
  place: Place,
): Outcome<{ fit: Fit; judgement: Judgement }> {
  const ux = statedUncertainty(x);
  if (ux === null || uy === null) {
    const bare = [uy === null ? inWords(yText) : null, ux === null ? inWords(xText) : null];
    const which = bare.filter((text) => text !== null).join(' and for ');
    return fail(
      problem(
        'no-stated-uncertainty',
        place,
        `"errors: both" needs an uncertainty of each reading on both axes, and for ${which} none is stated.`,
        'Give the instruments a resolution, clock or noise, or leave "errors" out.',
      ),
    );
  }
  const fit = fitLine(x.values, y.values, { ux, uy, place });
  if (!fit.ok) return fit;
  const slope = fit.value.parameters[1];
  const effective = uy.map((each, i) => hypotenuse(each, slope * ux[i]));
  const judgement = judgeFit({
    design: [new Float64Array(ux.length).fill(1), x.values],
    residuals: fit.value.residuals,
    statedU: effective,
    shared: null,
    place,
  });
  const shares = (y.sharedErrors?.width ?? 1) > 1 || (x.sharedErrors?.width ?? 1) > 1;
  const notes = shares
    ? [
        ...judgement.notes,
        warning(
          'shared-errors-ignored',
          place,
          'neighbouring readings share errors; a line with errors in both takes them as independent, so that its uncertainty is only a guide.',
        ),
      ]
    : judgement.notes;
  return succeed({
    fit: fit.value,
    judgement: {
      ...judgement,
      covariance: fit.value.covariance,
      statement:
        'The uncertainty is from the stated uncertainties on both axes; it is not scaled by reduced chi-square.',
      notes,
    },
  });
}
