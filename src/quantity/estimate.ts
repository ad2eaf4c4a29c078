import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { hypotenuse, power } from '../wasm/index.ts';

/** What is known about a quantity's possible values, besides their mean and spread. */
export type Distribution = 'exact' | 'normal' | 'rectangular' | 't';

/**
 * A value with its standard uncertainty (JCGM 100:2008, 2.3.1), both in SI units or both in the same unit.
 *
 * `exact` is not the same as an uncertainty of 0: it says that the value is fixed by definition or taken so.
 */
export interface Estimate {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Of the standard uncertainty; Infinity where it is taken as known. */
  readonly degreesOfFreedom: number;
  readonly distribution: Distribution;
  /** Of a rectangular distribution, in the unit of the value. */
  readonly halfWidth?: number;
}

/** A value without uncertainty: defined, or taken as exact. */
export function exactly(value: number): Estimate {
  requireFinite(value);
  return { value, standardUncertainty: 0, degreesOfFreedom: Infinity, distribution: 'exact' };
}

/**
 * A value whose standard uncertainty is stated: normal, or Student's t where the degrees of freedom are stated too.
 *
 * @param standardUncertainty ≥ 0, in the unit of the value
 * @param degreesOfFreedom > 0; Infinity unless stated
 * @throws RangeError for a number outside these ranges
 */
export function withStandardUncertainty(
  value: number,
  standardUncertainty: number,
  degreesOfFreedom = Infinity,
): Estimate {
  requireFinite(value);
  requireNotNegative(standardUncertainty, 'standard uncertainty');
  if (!(degreesOfFreedom > 0)) throw new RangeError(`Degrees of freedom are > 0, not ${degreesOfFreedom}.`);
  const distribution = degreesOfFreedom === Infinity ? 'normal' : 't';
  return { value, standardUncertainty, degreesOfFreedom, distribution };
}

/**
 * A value known to lie within limits, anywhere between them alike: u = halfWidth/√3.
 *
 * @param halfWidth ≥ 0, in the unit of the value
 * @throws RangeError for a number outside this range
 * Source: JCGM 100:2008, 4.3.7, equation (7)
 */
export function withinLimits(value: number, halfWidth: number): Estimate {
  requireFinite(value);
  requireNotNegative(halfWidth, 'half-width');
  return {
    value,
    standardUncertainty: halfWidth / Math.sqrt(3),
    degreesOfFreedom: Infinity,
    distribution: 'rectangular',
    halfWidth,
  };
}

/**
 * A reading of a display whose last digit steps by `division`: rectangular of half-width division/2, u = 0.29 division.
 *
 * @param division ≥ 0, in the unit of the value
 * @throws RangeError for a number outside this range
 * Source: JCGM 100:2008, F.2.2.1
 */
export function withReading(value: number, division: number): Estimate {
  requireNotNegative(division, 'division');
  return withinLimits(value, division / 2);
}

/**
 * A value from a certificate that states an expanded uncertainty U and its coverage factor k: u = U/k.
 *
 * @param expandedUncertainty U ≥ 0, in the unit of the value
 * @param coverageFactor k > 0
 * @throws RangeError for a number outside these ranges
 * Source: JCGM 100:2008, 4.3.3
 */
export function withExpanded(value: number, expandedUncertainty: number, coverageFactor: number): Estimate {
  requireNotNegative(expandedUncertainty, 'expanded uncertainty');
  if (!(coverageFactor > 0 && Number.isFinite(coverageFactor)))
    throw new RangeError(`A coverage factor is > 0, not ${coverageFactor}.`);
  return withStandardUncertainty(value, expandedUncertainty / coverageFactor);
}

/**
 * Mean of n repeated observations, with the experimental standard deviation of the mean, s/√n, and n − 1 degrees of
 * freedom.
 *
 * @param values n ≥ 2 finite numbers, all in one unit
 * @param place where the observations stand, for the message
 * @returns the estimate; fails with `too-few-observations` or `not-finite`
 * Source: JCGM 100:2008, 4.2.1 to 4.2.3, equations (3) to (5)
 */
export function fromObservations(values: readonly number[], place: Place = {}): Outcome<Estimate> {
  const strange = values.findIndex((value) => !Number.isFinite(value));
  if (strange >= 0)
    return fail(
      problem(
        'not-finite',
        place,
        `Observation ${strange + 1} of ${values.length} is ${values[strange]}; an observation is a finite number.`,
      ),
    );
  if (values.length < 2)
    return fail(
      problem(
        'too-few-observations',
        place,
        `${values.length === 0 ? 'No observation is' : 'Only one observation is'} given; a scatter needs at least 2.`,
        'Give more observations, or a value with u, within or reading.',
      ),
    );
  const mean = meanOf(values);
  const squares = values.map((value) => (value - mean) ** 2);
  const degreesOfFreedom = values.length - 1;
  const variance = squares.reduce((sum, square) => sum + square, 0) / degreesOfFreedom;
  return succeed({
    value: mean,
    standardUncertainty: Math.sqrt(variance / values.length),
    degreesOfFreedom,
    distribution: 't',
  });
}

/**
 * One value whose uncertainty has several independent parts: root sum of squares, with the effective degrees of
 * freedom of Welch and Satterthwaite. A single part keeps its distribution; several make a normal one, or t where a
 * part has finite degrees of freedom.
 *
 * @param value in the unit of the parts' uncertainties; the parts' own values do not enter
 * @param parts any number; none makes the value exact
 * Source: JCGM 100:2008, 5.1.2 equation (10) and G.4.1 equation (G.2b)
 */
export function combineUncertainties(value: number, parts: readonly Estimate[]): Estimate {
  const uncertain = parts.filter((part) => part.standardUncertainty > 0);
  if (uncertain.length === 0) return parts.length === 0 ? exactly(value) : { ...parts[0], value };
  if (uncertain.length === 1) return { ...uncertain[0], value };
  const standardUncertainty = hypotenuse(...uncertain.map((part) => part.standardUncertainty));
  // Shares of the variance, so that neither very small nor very large uncertainties leave the range of doubles.
  const inverse = uncertain.reduce(
    (sum, part) => sum + power(part.standardUncertainty / standardUncertainty, 4) / part.degreesOfFreedom,
    0,
  );
  return withStandardUncertainty(value, standardUncertainty, inverse === 0 ? Infinity : 1 / inverse);
}

/** Second pass over the deviations: removes the rounding of the first for values far from 0. */
function meanOf(values: readonly number[]): number {
  const first = values.reduce((sum, value) => sum + value / values.length, 0);
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length;
}

function requireFinite(value: number): void {
  if (!Number.isFinite(value)) throw new RangeError(`A value is a finite number, not ${value}.`);
}

function requireNotNegative(value: number, name: string): void {
  if (!(value >= 0 && Number.isFinite(value)))
    throw new RangeError(`A ${name} is a finite number ≥ 0, not ${value}.`);
}
