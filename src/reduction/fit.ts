import { isSymbol } from '../expression/index.ts';
import { fitNonlinear } from '../inference/index.ts';
import { fail, type Outcome, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { axisOf, errorsOfResiduals, findNotFinite, findTooFew, nothingStated } from './fit-context.ts';
import { withoutUncertainty } from './formula.ts';
import { judgeFit, statedUncertainty } from './judge-fit.ts';
import { compileLaw, readLaw, rowNumbers } from './law.ts';
import type { NumberSetting } from './number-setting.ts';
import { reportOf } from './report-of.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { scalarsOfFit } from './scalar-errors.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

const NAME = 'fit';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What was read.', required: true },
  {
    kind: 'column expression',
    name: 'as',
    what: 'The law: an expression of columns, quantities and the free symbols.',
    required: true,
  },
  {
    kind: 'start values',
    name: 'free',
    what: 'The free symbols, each with a value to start from.',
    required: true,
  },
  {
    kind: 'renaming',
    name: 'gives',
    what: 'Names for the fitted values of the free symbols; their own where it is left out.',
    required: false,
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

/** Any law fitted to the readings, by nonlinear least squares with exact derivatives. */
export const fit: ReductionStep = {
  name: NAME,
  what: 'Any law with free symbols, fitted to the readings by least squares.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const free = readFree(read);
    const names = free === null ? null : readNames(read, free);
    const weights = read.choice('weights', ['none', 'stated']) ?? 'none';
    const law =
      free === null
        ? null
        : readLaw(
            read,
            'as',
            new Map(Array.from(free, ([symbol, start]) => [symbol, start.dimension])),
            of === null ? undefined : { dimension: of.dimension, what: `the law for ${of.text}` },
          );
    read.requireSameRows('of', of?.rows, 'as', law?.rows);
    if (read.hasProblem || of === null || free === null || names === null || law === null) {
      return fail(...read.problems);
    }
    const symbols = [...free.keys()];
    const starts = [...free.values()];
    const dimensions: readonly Dimension[] = starts.map((start) => start.dimension);
    const lawOf = compileLaw(law, symbols, context);
    const words = `${NAME} of ${inWords(of.text)} as ${inWords(law.expression.text)}`;
    const needed = weights === 'none' ? symbols.length + 1 : symbols.length;
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: names.map((name, j) => ({ name, dimension: dimensions[j] })) },
      quantitiesRead: new Set([
        ...of.quantitiesRead,
        ...law.names.quantities,
        ...starts.flatMap((start) => [...start.quantitiesRead]),
      ]),
      readsUncertainties: weights === 'stated',
      run(state, quantities): Outcome<void> {
        const y = of.column(state, quantities);
        const place = placeOfStep(words, state);
        const count = symbols.length;
        const what = `a fit of ${count} free symbol${count === 1 ? '' : 's'}`;
        const found = [
          findTooFew(y.values.length, needed, what, of.rows, place),
          findNotFinite(inWords(of.text), y.values, place),
        ].filter((each) => each !== null);
        if (found.length > 0) return fail(...found);
        const stated = weights === 'stated' ? statedUncertainty(y) : null;
        if (weights === 'stated' && stated === null) return fail(nothingStated(inWords(of.text), place));
        const ofRun = lawOf(state, quantities);
        const fitted = fitNonlinear({
          y: y.values,
          evaluate: ofRun.evaluate,
          start: starts.map((start) => start.valueAt(quantities)),
          names: symbols,
          place,
          ...(stated !== null && { uy: stated }),
        });
        if (!fitted.ok) return fitted;
        const { parameters, residuals, warnings } = fitted.value;
        if (!state.findsUncertainties) {
          names.forEach((name, j) => {
            state.scalars.set(name, withoutUncertainty(parameters[j], dimensions[j]));
          });
          return succeed(undefined);
        }
        const design = symbols.map(() => new Float64Array(y.values.length));
        ofRun.evaluate(parameters, new Float64Array(y.values.length), design);
        const judgement = judgeFit({
          design,
          residuals,
          statedU: stated,
          shared: errorsOfResiduals(y, ofRun.onlyColumn, ofRun.slopes(parameters)),
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
        state.notes.push(...warnings, ...judgement.notes);
        if (state.keepsReports) {
          const x = ofRun.onlyColumn ?? rowNumbers(y.values.length);
          state.fits.push(
            reportOf({
              state,
              words,
              step: NAME,
              x: axisOf(x.name, x),
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

/** The free symbols and where each starts; null where the setting is wrong. */
function readFree(read: SettingsReader): ReadonlyMap<string, NumberSetting> | null {
  const symbols = read.keysOf('free');
  if (symbols === null) return null;
  if (symbols.length === 0) return read.tell('wrong-form', 'free', '"free" names no symbol to be fitted.');
  const free = new Map<string, NumberSetting>();
  for (const symbol of symbols) {
    if (!isSymbol(symbol)) {
      read.tell(
        'not-a-symbol',
        'free',
        `"${symbol}" cannot be a symbol: letters, digits and _ make one, a letter first.`,
      );
      continue;
    }
    const start = read.numberAt(['free', symbol], null);
    if (start !== null && read.isUnused(symbol, ['free', symbol])) free.set(symbol, start);
  }
  return free.size === symbols.length ? free : null;
}

/** The names that the fitted values get, in the order of the symbols; null where one is wrong. */
function readNames(read: SettingsReader, free: ReadonlyMap<string, NumberSetting>): readonly string[] | null {
  const renamed = read.has('gives') ? read.keysOf('gives') : [];
  if (renamed === null) return null;
  const names = new Map([...free.keys()].map((symbol) => [symbol, symbol]));
  for (const symbol of renamed) {
    if (!names.has(symbol)) {
      read.tell(
        'unknown-symbol',
        'gives',
        `${symbol} is not a free symbol; these are ${[...free.keys()].join(', ')}.`,
      );
      return null;
    }
    const name = read.wordAt(['gives', symbol]);
    if (name === null || !read.isUnused(name, ['gives', symbol])) return null;
    names.set(symbol, name);
  }
  const all = [...names.values()];
  if (new Set(all).size < all.length)
    return read.tell('name-taken', 'gives', 'two fitted values have the same name.');
  return all;
}
