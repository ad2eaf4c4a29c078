import { fail, type Outcome, type Place, problem } from '../problem/index.ts';
import { checkReadings } from './check-readings.ts';
import { type ExtendedColumn, extendColumn, extendDecimals, multiplyColumns } from './extended-column.ts';
import type { Fit, FitOptions } from './fit.ts';
import { LIMIT_OF_EXTENDED, solveWeighted } from './fit-linear.ts';

/** Longer columns come from instruments, not from hands, and would take long to read as decimals. */
const MOST_DECIMALS = 10_000;

/**
 * Polynomial of a given degree through readings of y at exact x.
 *
 * @param x, y   n readings each, any units
 * @param degree 0 or more, a whole number
 * @returns coefficients, lowest power first, in [y]/[x]ʲ
 * Fails as fitLinear, and with 'identical-x' where fewer than degree + 1 values of x differ.
 */
export function fitPolynomial(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  degree: number,
  options: FitOptions = {},
): Outcome<Fit> {
  if (!Number.isInteger(degree) || degree < 0)
    throw new RangeError(`A degree is 0, 1, 2, …; found ${degree}.`);
  const place = options.place ?? { step: `polynomial of degree ${degree}` };
  const powers = Array.from({ length: degree + 1 }, (_, power) => power);
  return fitPowers(
    x,
    y,
    powers,
    degree === 1 ? 'a line' : `a polynomial of degree ${degree}`,
    options,
    place,
  );
}

/**
 * Least squares on the given powers of x, each power formed to 32 digits: the columns of a high polynomial are
 * so nearly dependent that the rounding of a double in them would be all one fits.
 */
export function fitPowers(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  powers: readonly number[],
  what: string,
  options: FitOptions,
  place: Place,
): Outcome<Fit> {
  const weighting = checkReadings(
    what,
    powers.length,
    [
      { name: 'x', values: x },
      { name: 'y', values: y },
    ],
    options,
    place,
  );
  if (!weighting.ok) return weighting;
  const different = countDifferent(x, Math.max(2, powers.length));
  if (different < powers.length || (different === 1 && x[0] === 0 && powers[0] > 0)) {
    return fail(
      problem(
        'identical-x',
        place,
        different === 1
          ? `All ${x.length} readings of x are ${x[0]}; ${what} needs at least ${Math.max(2, powers.length)} different ones.`
          : `Only ${different} readings of x differ; ${what} needs at least ${powers.length} different ones.`,
        'Take readings at more places, or fit a simpler curve.',
      ),
    );
  }
  const names = powers.map((exponent, j) => options.names?.[j] ?? nameOfPower(exponent));
  const solve = (extendReadings: (values: ArrayLike<number>) => ExtendedColumn): Outcome<Fit> =>
    solveWeighted(
      powersOf(extendReadings(x), powers),
      extendReadings(y),
      weighting.value,
      names,
      LIMIT_OF_EXTENDED,
      place,
    );
  const found = solve(extendColumn);
  // A fit this close shows the rounding of the readings to doubles: take them as the decimals they were.
  return found.ok && isCloseToRounding(found.value, y) ? solve(extendDecimals) : found;
}

/** How many values of x differ, counted no further than is enough. */
function countDifferent(x: ArrayLike<number>, enough: number): number {
  const seen = new Set<number>();
  for (let i = 0; i < x.length && seen.size < enough; i += 1) seen.add(x[i]);
  return seen.size;
}

function powersOf(x: ExtendedColumn, powers: readonly number[]): readonly ExtendedColumn[] {
  let power = extendColumn(new Float64Array(x.high.length).fill(1));
  const columns: ExtendedColumn[] = [];
  for (let exponent = 0; exponent <= Math.max(...powers); exponent += 1) {
    if (exponent > 0) power = multiplyColumns(power, x);
    if (powers.includes(exponent)) columns.push(power);
  }
  return columns;
}

function isCloseToRounding(fit: Fit, y: ArrayLike<number>): boolean {
  if (y.length > MOST_DECIMALS) return false;
  let size = 0;
  let rest = 0;
  for (let i = 0; i < y.length; i += 1) {
    size += y[i] * y[i];
    rest += fit.residuals[i] * fit.residuals[i];
  }
  return rest <= 1e-12 * size;
}

function nameOfPower(exponent: number): string {
  if (exponent === 0) return 'the constant term';
  return exponent === 1 ? 'the coefficient of x' : `the coefficient of x^${exponent}`;
}
