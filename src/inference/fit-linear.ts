import {
  fail,
  listNames,
  type Outcome,
  type Place,
  type Problem,
  problem,
  succeed,
} from '../problem/index.ts';
import { checkReadings, parameterNames, type Weighting } from './check-readings.ts';
import { judgeConditioning } from './conditioning.ts';
import { divideColumn, type ExtendedColumn, extendColumn } from './extended-column.ts';
import { solveLeastSquares } from './extended-least-squares.ts';
import { type Fit, type FitOptions, finishFit } from './fit.ts';

/** Columns given as doubles carry an error of 1e-16 each; beyond this nothing but that error is fitted. */
const LIMIT_OF_DOUBLES = 1e13;
/** Columns given to 32 digits. */
export const LIMIT_OF_EXTENDED = 1e24;

/**
 * General linear least squares: y ≈ Σ parameterⱼ·columnⱼ.
 *
 * @param columns k columns of n values; a column may be given to 32 digits as { high, low }
 * @param y       n readings
 * @returns the parameters in the order of the columns, in [y]/[column]
 * Fails with 'too-few-readings' (n ≤ k, or n < k with stated uncertainties), 'not-finite', 'zero-weight',
 * 'singular-design' (columns that are combinations of one another, by name), 'no-influence' (a column of zeros).
 * Warns 'ill-conditioned'.
 * Method: Householder triangularisation in double-double arithmetic (Golub 1965)
 */
export function fitLinear(
  columns: readonly (ArrayLike<number> | ExtendedColumn)[],
  y: ArrayLike<number> | ExtendedColumn,
  options: FitOptions = {},
): Outcome<Fit> {
  const place = options.place ?? { step: 'linear fit' };
  const names = parameterNames(columns.length, options.names);
  const plain = (column: ArrayLike<number> | ExtendedColumn) => ('high' in column ? column.high : column);
  const uncomputed = columns.flatMap((column, j) => findUncomputed(names[j], plain(column), place) ?? []);
  if (uncomputed.length > 0) return fail(...uncomputed);
  const weighting = checkReadings(
    `a fit of ${columns.length} parameter${columns.length === 1 ? '' : 's'}`,
    columns.length,
    [
      ...columns.map((column, j) => ({ name: names[j], values: plain(column) })),
      { name: 'y', values: plain(y) },
    ],
    options,
    place,
  );
  if (!weighting.ok) return weighting;
  const exact = columns.every((column) => 'high' in column);
  return solveWeighted(
    columns.map((column) => ('high' in column ? column : extendColumn(column))),
    'high' in y ? y : extendColumn(y),
    weighting.value,
    names,
    exact ? LIMIT_OF_EXTENDED : LIMIT_OF_DOUBLES,
    place,
  );
}

/** The first reading at which the factor of a parameter cannot be computed, or null. */
function findUncomputed(name: string, values: ArrayLike<number>, place: Place): Problem | null {
  for (let i = 0; i < values.length; i += 1) {
    if (Number.isFinite(values[i])) continue;
    return problem(
      'not-finite',
      place,
      `What ${name} is multiplied with cannot be computed at reading ${i + 1}: it is ${Number.isNaN(values[i]) ? 'not a number' : 'infinite'}.`,
      'Look there for the root or logarithm of a negative number or a division by zero.',
    );
  }
  return null;
}

/** Parameters whose factor is zero at every reading, or whose factors are the same at all readings. */
function findUseless(
  columns: readonly ExtendedColumn[],
  names: readonly string[],
  place: Place,
): Problem | null {
  const idle = names.filter((_, j) => isConstant(columns[j], 0));
  if (idle.length > 0) {
    const message = `${listNames(idle)} ${idle.length === 1 ? 'has' : 'have'} no influence: the fitted value is the same at every reading whatever ${idle.length === 1 ? 'it is' : 'they are'}.`;
    return problem('no-influence', place, message, 'Leave it out of the expression.');
  }
  const n = columns[0]?.high.length ?? 0;
  if (columns.length < 2 || n < 2 || !columns.every((column) => isConstant(column, column.high[0])))
    return null;
  return problem(
    'singular-design',
    place,
    `All ${n} readings were taken at the same place (every x is alike), so they cannot tell ${listNames(names)} apart.`,
    'Take readings over a range of x, or leave one parameter free only.',
  );
}

function isConstant({ high, low }: ExtendedColumn, value: number): boolean {
  for (let i = 0; i < high.length; i += 1) if (high[i] !== value || low[i] !== low[0]) return false;
  return value !== 0 || low[0] === 0;
}

/** Least squares of checked readings. */
export function solveWeighted(
  columns: readonly ExtendedColumn[],
  y: ExtendedColumn,
  weighting: Weighting,
  names: readonly string[],
  limit: number,
  place: Place,
): Outcome<Fit> {
  const { uy } = weighting;
  const useless = findUseless(columns, names, place);
  if (useless !== null) return fail(useless);
  const weighted = columns.map((column) =>
    uy ? divideColumn(column, uy) : { high: column.high.slice(), low: column.low.slice() },
  );
  const solved = solveLeastSquares(weighted, uy ? divideColumn(y, uy) : y);
  const warnings: Problem[] = [];
  const judged = judgeConditioning(solved.entanglement, solved.inverse, names, limit, place);
  if (judged?.severity === 'error') return fail(judged);
  if (judged) warnings.push(judged);
  const residuals = uy ? solved.residuals.map((residual, i) => residual * uy[i]) : solved.residuals;
  return succeed(
    finishFit({
      parameters: Float64Array.from(solved.solution, (value) => value.high),
      inverse: solved.inverse,
      sumOfSquares: solved.sumOfSquares,
      degreesOfFreedom: y.high.length - columns.length,
      residuals,
      stated: uy !== null,
      uncertaintyFrom: weighting.uncertaintyFrom,
      warnings,
    }),
    warnings,
  );
}
