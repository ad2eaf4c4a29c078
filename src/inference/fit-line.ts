import type { Outcome } from '../problem/index.ts';
import type { Fit, LineOptions } from './fit.ts';
import { fitLineInBoth } from './fit-line-in-both.ts';
import { fitPowers } from './fit-polynomial.ts';

/**
 * Straight line y = intercept + slope·x.
 *
 * @param x, y n readings each, any units
 * @returns parameters [intercept in [y], slope in [y]/[x]]; through the origin [slope]
 * Without uncertainties every reading counts alike and the scatter tells the uncertainty; with `uy` readings
 * are weighted; with `ux` and `uy` both variables carry errors (York et al. 2004).
 * Fails with 'too-few-readings', 'identical-x', 'not-finite', 'zero-weight', 'not-converged'.
 */
export function fitLine(x: ArrayLike<number>, y: ArrayLike<number>, options: LineOptions = {}): Outcome<Fit> {
  const place = options.place ?? { step: 'straight line' };
  const withErrorsInX =
    options.ux !== undefined && !(typeof options.ux === 'number' ? options.ux === 0 : allZero(options.ux));
  if (withErrorsInX) {
    if (options.throughOrigin)
      throw new RangeError('A line through the origin with errors in both is not offered.');
    return fitLineInBoth(x, y, options, place);
  }
  return options.throughOrigin
    ? fitPowers(x, y, [1], 'a line through the origin', { names: ['the slope'], ...options }, place)
    : fitPowers(x, y, [0, 1], 'a line', { names: ['the intercept', 'the slope'], ...options }, place);
}

function allZero(values: ArrayLike<number>): boolean {
  for (let i = 0; i < values.length; i += 1) if (values[i] !== 0) return false;
  return true;
}
