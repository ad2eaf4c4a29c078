import { compileColumns, differentiate, namesIn, simplify, type Tree } from '../../expression/index.ts';
import {
  type Evaluate,
  type EvaluateCurve,
  evaluateExtended,
  type Fit,
  fitLinear,
  fitNonlinear,
  fitNonlinearInBoth,
  prepareResiduals,
} from '../../inference/index.ts';
import type { Outcome } from '../../problem/index.ts';
import { fail, listNames, problem, succeed } from '../../problem/index.ts';
import type { Setting, TableFit } from './table-fit.ts';

/** A fit and the way it was found. */
export interface Fitted {
  readonly fit: Fit;
  readonly kind: TableFit['kind'];
}

/** Fits by the plainest method that the expression and the uncertainties allow. */
export function runFit(setting: Setting): Outcome<Fitted> {
  const { right, parameters, request } = setting;
  const gradient = parameters.map((name) => simplify(differentiate(right, name)));
  const linear = gradient.every((tree) => parameters.every((name) => !namesIn(tree).has(name)));
  if (setting.ux !== null) return fitInBoth(setting, gradient);
  if (linear && request.bounds === undefined && (request.loss ?? 'squares') === 'squares')
    return fitLinearly(setting, gradient);
  return fitByEvaluation(setting, gradient, linear);
}

function fitOptions(setting: Setting) {
  return {
    names: setting.parameters,
    place: setting.place,
    ...(setting.uy === null ? {} : { uy: setting.uy }),
    ...(setting.uncertaintyFrom === undefined ? {} : { uncertaintyFrom: setting.uncertaintyFrom }),
  };
}

/** Exact derivatives are the columns of the design; to 30 digits where the expression allows. */
function fitLinearly(setting: Setting, gradient: readonly Tree[]): Outcome<Fitted> {
  const { left, right, parameters, variables, n } = setting;
  const zero = new Map(parameters.map((name) => [name, new Float64Array(n)]));
  const design = gradient.map(
    (tree) => evaluateExtended(tree, variables, n) ?? evaluateColumn(tree, setting),
  );
  const rest = evaluateExtended(right, new Map([...variables, ...zero]), n);
  const reading = evaluateExtended(left, variables, n);
  const hasRest = rest === null || rest.high.some((value) => value !== 0);
  const y =
    hasRest || reading === null
      ? subtractColumns(evaluateColumn(left, setting), evaluateAtZero(setting))
      : reading;
  const fit = fitLinear(design, y, fitOptions(setting));
  return fit.ok ? succeed({ fit: fit.value, kind: 'linear' }, fit.value.warnings) : fit;
}

function fitByEvaluation(setting: Setting, gradient: readonly Tree[], linear: boolean): Outcome<Fitted> {
  const { left, right, parameters, request, variables, place } = setting;
  const start = startValues(setting, linear);
  if (!start.ok) return start;
  const names = [...variables.keys()];
  const columns = [...variables.values()];
  const value = compileColumns(right, names, parameters);
  const derivatives = gradient.map((tree) => compileColumns(tree, names, parameters));
  const evaluate: Evaluate = (at, values, jacobian) => {
    value(columns, at, values);
    if (jacobian !== null)
      for (const [index, derivative] of derivatives.entries()) derivative(columns, at, jacobian[index]);
  };
  const precise = prepareResiduals({ reading: left, model: right, parameters, columns: variables });
  const fit = fitNonlinear({
    ...fitOptions(setting),
    y: evaluateColumn(left, setting),
    evaluate,
    start: start.value,
    ...(request.bounds === undefined
      ? {}
      : {
          bounds: parameters.map(
            (name) =>
              request.bounds?.get(name) ?? ([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] as const),
          ),
        }),
    ...(request.loss === undefined ? {} : { loss: request.loss }),
    ...(precise === null ? {} : { preciseResiduals: precise }),
    ...(request.signal === undefined ? {} : { signal: request.signal }),
    place,
  });
  return fit.ok ? succeed({ fit: fit.value, kind: 'nonlinear' }, fit.value.warnings) : fit;
}

function fitInBoth(setting: Setting, gradient: readonly Tree[]): Outcome<Fitted> {
  const { left, right, parameters, variables, place, ux, uy } = setting;
  const onRight = [...namesIn(right)].filter((name) => variables.has(name));
  const [x, ...more] = onRight;
  if (x === undefined || more.length > 0 || left.kind !== 'name') {
    return fail(
      problem(
        'errors-in-both',
        place,
        'Errors in both variables need one column on each side, as in "y = a + b*x".',
      ),
    );
  }
  if (uy === null || ux === null) {
    return fail(
      problem(
        'errors-in-both',
        place,
        'Errors in x are given but none in y; a fit with errors in both needs both.',
      ),
    );
  }
  const linear = gradient.every((tree) => parameters.every((name) => !namesIn(tree).has(name)));
  const start = startValues(setting, linear);
  if (!start.ok) return start;
  const value = compileColumns(right, [x], parameters);
  const slope = compileColumns(simplify(differentiate(right, x)), [x], parameters);
  const derivatives = gradient.map((tree) => compileColumns(tree, [x], parameters));
  const evaluate: EvaluateCurve = (at, points, values, slopes, jacobian) => {
    const columns = [points];
    value(columns, at, values);
    slope(columns, at, slopes);
    if (jacobian !== null)
      for (const [index, derivative] of derivatives.entries()) derivative(columns, at, jacobian[index]);
  };
  const fit = fitNonlinearInBoth({
    x: variables.get(x) ?? new Float64Array(0),
    y: evaluateColumn(left, setting),
    ux,
    uy,
    evaluate,
    start: start.value,
    names: parameters,
    place,
    ...(setting.request.loss === undefined ? {} : { loss: setting.request.loss }),
  });
  return fit.ok ? succeed({ fit: fit.value, kind: 'errors in both' }, fit.value.warnings) : fit;
}

/** The given start; where the expression is linear, the plain linear fit finds one. */
function startValues(setting: Setting, linear: boolean): Outcome<Float64Array> {
  const { parameters, request, place, right } = setting;
  const missing = parameters.filter((name) => !request.start.has(name));
  if (missing.length === 0)
    return succeed(Float64Array.from(parameters, (name) => request.start.get(name) ?? Number.NaN));
  if (linear) {
    const gradient = parameters.map((name) => simplify(differentiate(right, name)));
    const fit = fitLinearly({ ...setting, ux: null, uy: null, uncertaintyFrom: undefined }, gradient);
    return fit.ok ? succeed(Float64Array.from(fit.value.fit.parameters)) : fit;
  }
  return fail(
    problem(
      'start-missing',
      place,
      `${listNames(missing)} ${missing.length === 1 ? 'has' : 'have'} no start value, and the expression is not linear in ${parameters.length === 1 ? 'it' : 'its parameters'}.`,
      `Give one: --start ${missing.map((name) => `${name}=1`).join(',')}.`,
    ),
  );
}

/** An expression of columns, one value a row. */
export function evaluateColumn(tree: Tree, setting: Setting): Float64Array {
  const out = new Float64Array(setting.n);
  compileColumns(tree, [...setting.variables.keys()], [])(
    [...setting.variables.values()],
    new Float64Array(0),
    out,
  );
  return out;
}

function evaluateAtZero(setting: Setting): Float64Array {
  const out = new Float64Array(setting.n);
  const { right, variables, parameters } = setting;
  compileColumns(right, [...variables.keys()], parameters)(
    [...variables.values()],
    new Float64Array(parameters.length),
    out,
  );
  return out;
}

function subtractColumns(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, index) => value - b[index]);
}
