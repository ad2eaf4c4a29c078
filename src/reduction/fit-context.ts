import type { Column, SharedErrors } from '../instrument/index.ts';
import { type Place, type Problem, problem } from '../problem/index.ts';
import type { FitAxis } from './fit-report.ts';
import { statedUncertainty } from './judge-fit.ts';
import { combineShared } from './lazy-column.ts';
import { windowSentence } from './run-place.ts';
import type { RowSet } from './step.ts';

/**
 * The errors of y − f(x), where x and y may share errors.
 *
 * @param slope dy/dx of the fit at each reading; null where x is taken as exact
 */
export function errorsOfResiduals(
  y: Column,
  x: Column | null,
  slope: Float64Array | null,
): SharedErrors | null {
  const ofY = y.sharedErrors;
  const ofX = x === null || slope === null ? undefined : x.sharedErrors;
  const ones = new Float64Array(y.values.length).fill(1);
  if (ofY === undefined && (ofX === undefined || slope === null)) return null;
  if (ofY === undefined && ofX !== undefined && slope !== null) {
    return combineShared(ofX.family, [{ errors: ofX, slope: slope.map((each) => -each) }]);
  }
  if (ofY === undefined) return null;
  if (ofX === undefined || slope === null || ofX.family !== ofY.family) return ofY;
  return combineShared(ofY.family, [
    { errors: ofY, slope: ones },
    { errors: ofX, slope: slope.map((each) => -each) },
  ]);
}

/** A column as an axis of a report. */
export function axisOf(text: string, column: Column): FitAxis {
  return { text, dimension: column.dimension, values: column.values, u: statedUncertainty(column) };
}

/** A problem where fewer readings are left than a fit needs; null where there are enough. */
export function findTooFew(
  count: number,
  needed: number,
  what: string,
  rows: RowSet,
  place: Place,
): Problem | null {
  if (count >= needed) return null;
  const readings = count === 1 ? '1 reading is' : `${count === 0 ? 'no' : count} readings are`;
  const left = rows.windows.length > 0 ? 'left after "keep"' : 'there';
  return problem(
    'too-few-readings',
    place,
    `${readings} ${left}; ${what} needs at least ${needed}.${windowSentence(rows.windows)}`,
  );
}

/** A problem where a value of a column is not a finite number; null where all are. */
export function findNotFinite(text: string, values: Float64Array, place: Place): Problem | null {
  for (let i = 0; i < values.length; i++) {
    if (Number.isFinite(values[i])) continue;
    return problem(
      'not-finite',
      place,
      `${text} is ${values[i]} in row ${i + 1}; a finite number would be right.`,
      'Leave the row out with "keep", or look for a division by zero or the root of a negative number.',
    );
  }
  return null;
}

/** The problem where weights are asked for and nothing is stated. */
export function nothingStated(text: string, place: Place): Problem {
  return problem(
    'no-stated-uncertainty',
    place,
    `"weights: stated" needs an uncertainty of each reading, and for ${text} none is stated.`,
    'Give the instrument a resolution, clock or noise, or leave the weights out.',
  );
}
