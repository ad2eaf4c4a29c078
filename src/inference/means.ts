import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { findNotFinite, spreadUncertainty } from './check-readings.ts';
import { extendDecimal } from './decimal-extension.ts';
import { add, addExactly, type DoubleDouble, divide, extend, multiply, subtract } from './double-double.ts';

/** Longer columns come from instruments, not from hands, and would take long to read as decimals. */
const MOST_DECIMALS = 10_000;

/** A mean of readings and how well it is known. */
export interface Mean {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** Standard deviation of a single reading (of unit weight, in a weighted mean). */
  readonly standardDeviation: number;
}

/**
 * Mean of n readings with the standard uncertainty s/√n and n − 1 degrees of freedom.
 *
 * Sums run in double-double arithmetic: readings that differ in their last digits only keep them.
 * Fails with 'too-few-readings' (n < 2), 'not-finite'.
 * Source: JCGM 100:2008, 4.2
 */
export function meanOf(values: ArrayLike<number>, place: Place = { step: 'mean' }): Outcome<Mean> {
  const n = values.length;
  const bad = findNotFinite('the values', values, place);
  if (bad) return fail(bad);
  if (n < 2) {
    return fail(
      problem(
        'too-few-readings',
        place,
        `${n === 1 ? '1 reading is' : 'No readings are'} left; a mean with an uncertainty needs at least 2.`,
        'Repeat the measurement, or state the uncertainty of a single reading.',
      ),
    );
  }
  let { mean, standardDeviation } = momentsOf(values, extend);
  // Readings this close together show their rounding to doubles: take them as the decimals they were.
  if (n <= MOST_DECIMALS && standardDeviation < 1e-6 * Math.abs(mean))
    ({ mean, standardDeviation } = momentsOf(values, extendDecimal));
  return succeed({
    value: mean,
    standardUncertainty: standardDeviation / Math.sqrt(n),
    degreesOfFreedom: n - 1,
    standardDeviation,
  });
}

function momentsOf(
  values: ArrayLike<number>,
  read: (value: number) => DoubleDouble,
): { mean: number; standardDeviation: number } {
  const n = values.length;
  let sum: DoubleDouble = extend(0);
  for (let i = 0; i < n; i += 1) sum = add(sum, read(values[i]));
  const mean = divide(sum, extend(n));
  let squares = extend(0);
  for (let i = 0; i < n; i += 1) {
    const difference = subtract(read(values[i]), mean);
    squares = add(squares, multiply(difference, difference));
  }
  return { mean: mean.high, standardDeviation: Math.sqrt(squares.high / (n - 1)) };
}

/** A weighted mean also tells whether the readings agree within their uncertainties. */
export interface WeightedMean extends Mean {
  /** Σ ((reading − mean)/uncertainty)², with n − 1 degrees of freedom. */
  readonly chiSquare: number;
  /** √(chiSquare/(n − 1)): above 1 the readings disagree more than they state; NaN for one reading. */
  readonly birgeRatio: number;
}

/**
 * Mean of readings weighted by 1/u².
 *
 * @param u standard uncertainties, > 0; or one for all
 * @param uncertaintyFrom 'stated' (default): 1/√(Σ 1/u²) with infinite degrees of freedom; 'scatter': that
 * times the Birge ratio, with n − 1
 * Fails with 'too-few-readings' (none; one, from scatter), 'not-finite', 'zero-weight'.
 * Source: Birge, Phys. Rev. 40 (1932) 207–227
 */
export function weightedMeanOf(
  values: ArrayLike<number>,
  u: ArrayLike<number> | number,
  uncertaintyFrom: 'stated' | 'scatter' = 'stated',
  place: Place = { step: 'weighted mean' },
): Outcome<WeightedMean> {
  const n = values.length;
  const needed = uncertaintyFrom === 'stated' ? 1 : 2;
  if (n < needed) {
    return fail(
      problem(
        'too-few-readings',
        place,
        `${n === 1 ? '1 reading is' : 'No readings are'} left; this weighted mean needs at least ${needed}.`,
      ),
    );
  }
  const bad = findNotFinite('the values', values, place);
  const spread = spreadUncertainty('the values', u, n, place);
  if (bad || !spread.ok) return fail(...(bad ? [bad] : []), ...(spread.ok ? [] : spread.problems));
  let weights = extend(0);
  let sum = extend(0);
  for (let i = 0; i < n; i += 1) {
    const weight = divide(extend(1), multiply(extend(spread.value[i]), extend(spread.value[i])));
    weights = add(weights, weight);
    // Taken from the first reading, so that a common offset costs no digits.
    sum = add(sum, multiply(weight, addExactly(values[i], -values[0])));
  }
  const offset = divide(sum, weights);
  const value = add(offset, extend(values[0])).high;
  let chiSquare = 0;
  for (let i = 0; i < n; i += 1) {
    const ratio = subtract(addExactly(values[i], -values[0]), offset).high / spread.value[i];
    chiSquare += ratio * ratio;
  }
  const birgeRatio = Math.sqrt(chiSquare / (n - 1));
  const statedUncertainty = 1 / Math.sqrt(weights.high);
  const stated = uncertaintyFrom === 'stated';
  return succeed({
    value,
    standardUncertainty: stated ? statedUncertainty : statedUncertainty * birgeRatio,
    degreesOfFreedom: stated ? Number.POSITIVE_INFINITY : n - 1,
    standardDeviation: birgeRatio,
    chiSquare,
    birgeRatio: n > 1 ? birgeRatio : Number.NaN,
  });
}

/** Means of quantities read together, and how they hang together. */
export interface JointMeans {
  /** k values. */
  readonly means: Float64Array;
  /** Covariance of the means, k×k row-major. */
  readonly covariance: Float64Array;
  readonly degreesOfFreedom: number;
}

/**
 * Means of k quantities read n times together, with the covariance that their common scatter shows.
 *
 * @param columns k columns of n readings; row i was read in one go
 * Fails with 'too-few-readings' (n < 2), 'not-finite'.
 * Source: JCGM 100:2008, 5.2.3, equation (17)
 */
export function meansTogether(
  columns: readonly ArrayLike<number>[],
  place: Place = { step: 'means' },
): Outcome<JointMeans> {
  const n = columns[0].length;
  const k = columns.length;
  const means = new Float64Array(k);
  for (let j = 0; j < k; j += 1) {
    if (columns[j].length !== n)
      throw new RangeError(`Column ${j + 1} has ${columns[j].length} readings, the first ${n}.`);
    const mean = meanOf(columns[j], place);
    if (!mean.ok) return mean;
    means[j] = mean.value.value;
  }
  const covariance = new Float64Array(k * k);
  for (let a = 0; a < k; a += 1) {
    for (let b = a; b < k; b += 1) {
      let sum = 0;
      for (let i = 0; i < n; i += 1) sum += (columns[a][i] - means[a]) * (columns[b][i] - means[b]);
      covariance[a * k + b] = sum / (n * (n - 1));
      covariance[b * k + a] = covariance[a * k + b];
    }
  }
  return succeed({ means, covariance, degreesOfFreedom: n - 1 });
}
