import { fail, type Outcome, type Place, type Problem, problem, succeed } from '../problem/index.ts';
import type { FitOptions } from './fit.ts';

/** How the readings are weighted, and what the uncertainties of the fit come from. */
export interface Weighting {
  /** Standard uncertainty of each reading, or null where all count alike. */
  readonly uy: Float64Array | null;
  readonly uncertaintyFrom: 'scatter' | 'stated';
}

/** The names of k parameters: those given, else b1, b2, … */
export function parameterNames(k: number, names?: readonly string[]): readonly string[] {
  return Array.from({ length: k }, (_, j) => names?.[j] ?? `b${j + 1}`);
}

/** The first reading that is not finite, as a problem naming its 1-based number; null where all are. */
export function findNotFinite(what: string, values: ArrayLike<number>, place: Place): Problem | null {
  for (let i = 0; i < values.length; i += 1) {
    if (!Number.isFinite(values[i])) {
      return problem(
        'not-finite',
        place,
        `Reading ${i + 1} of ${what} is ${values[i]}; a fit needs finite numbers.`,
        'Leave the reading out with a window or mend it in the file.',
      );
    }
  }
  return null;
}

/**
 * The stated standard uncertainties, one a reading, or the problem with them.
 *
 * Fails with 'zero-weight' where one is zero, negative or not finite.
 */
export function spreadUncertainty(
  what: string,
  stated: ArrayLike<number> | number,
  n: number,
  place: Place,
  zeroAllowed = false,
): Outcome<Float64Array> {
  const values = typeof stated === 'number' ? new Float64Array(n).fill(stated) : Float64Array.from(stated);
  if (values.length !== n)
    throw new RangeError(`${n} readings with ${values.length} uncertainties of ${what}.`);
  for (let i = 0; i < n; i += 1) {
    const good = Number.isFinite(values[i]) && (values[i] > 0 || (zeroAllowed && values[i] === 0));
    if (!good) {
      return fail(
        problem(
          'zero-weight',
          place,
          `The standard uncertainty of reading ${i + 1} of ${what} is ${values[i]}; it must be a finite number above 0.`,
          'A reading that should not count is left out with a window; one without stated uncertainty needs a fit without weights.',
        ),
      );
    }
  }
  return succeed(values);
}

/**
 * Checks that a fit of k parameters to n readings can be done at all, and settles the weights.
 *
 * Fails with 'too-few-readings', 'not-finite', 'zero-weight': all that are found.
 */
export function checkReadings(
  what: string,
  k: number,
  columns: readonly { readonly name: string; readonly values: ArrayLike<number> }[],
  options: FitOptions,
  place: Place,
): Outcome<Weighting> {
  const n = columns[0].values.length;
  for (const column of columns) {
    if (column.values.length !== n)
      throw new RangeError(`${column.name} has ${column.values.length} readings, ${columns[0].name} ${n}.`);
  }
  const uncertaintyFrom = options.uncertaintyFrom ?? (options.uy === undefined ? 'scatter' : 'stated');
  if (uncertaintyFrom === 'stated' && options.uy === undefined)
    throw new RangeError('Uncertainties cannot come from stated ones where none are stated.');
  const needed = uncertaintyFrom === 'stated' ? k : k + 1;
  const problems: Problem[] = [];
  if (n < needed) {
    problems.push(
      problem(
        'too-few-readings',
        place,
        `${n === 1 ? '1 reading is' : `${n} readings are`} left; ${what} needs at least ${needed}.`,
        'Widen the window or take more readings.',
      ),
    );
  }
  for (const column of columns) {
    const found = findNotFinite(column.name, column.values, place);
    if (found) problems.push(found);
  }
  if (options.uy === undefined) {
    return problems.length > 0 ? fail(...problems) : succeed({ uy: null, uncertaintyFrom });
  }
  const uy = spreadUncertainty(columns[columns.length - 1].name, options.uy, n, place);
  if (!uy.ok) return fail(...problems, ...uy.problems);
  return problems.length > 0 ? fail(...problems) : succeed({ uy: uy.value, uncertaintyFrom });
}
