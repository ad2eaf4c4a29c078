import { usualNames } from './dimension-names.ts';
import { formatSuperscript } from './superscript.ts';

/**
 * Exponents of the seven base quantities of the SI, in the order
 * length, mass, time, electric current, temperature, amount of substance, luminous intensity.
 *
 * Exponents may be fractions (a noise density in V/√Hz). Plane angle has no exponent of its own: it is a
 * property of units (`Unit.angle`), not of dimensions.
 */
export type Dimension = readonly number[];

/** The dimension of a plain number. */
export const dimensionless: Dimension = Object.freeze([0, 0, 0, 0, 0, 0, 0]);

/**
 * The dimension of a symbol whose own definition is faulty: alike to every other, so that the one fault is told once
 * and not again wherever the symbol is used.
 */
export const unknownDimension: Dimension = Object.freeze(Array.from({ length: 7 }, () => Number.NaN));

/** Whether a dimension is, or was computed from, an unknown one. */
export function isUnknownDimension(dimension: Dimension): boolean {
  return dimension.some(Number.isNaN);
}

/** Products of many fractional powers leave rounding errors of this size and no larger. */
const exponentTolerance = 1e-9;

/** Dimension of a product. */
export function multiplyDimensions(a: Dimension, b: Dimension): Dimension {
  return a.map((exponent, index) => tidy(exponent + b[index]));
}

/** Dimension of a quotient a/b. */
export function divideDimensions(a: Dimension, b: Dimension): Dimension {
  return a.map((exponent, index) => tidy(exponent - b[index]));
}

/** Dimension of a power; `n` may be negative or a fraction. */
export function raiseDimension(a: Dimension, n: number): Dimension {
  return a.map((exponent) => tidy(exponent * n));
}

/** Whether two dimensions are the same, to 1e-9 in every exponent; an unknown one is alike to every other. */
export function sameDimension(a: Dimension, b: Dimension): boolean {
  return !a.some((exponent, index) => Math.abs(exponent - b[index]) > exponentTolerance);
}

/** Printing order: mass first, as the derived units are usually written (kg·m/s², not m·kg/s²). */
const printed: readonly { symbol: string; index: number }[] = [
  { symbol: 'kg', index: 1 },
  { symbol: 'm', index: 0 },
  { symbol: 's', index: 2 },
  { symbol: 'A', index: 3 },
  { symbol: 'K', index: 4 },
  { symbol: 'mol', index: 5 },
  { symbol: 'cd', index: 6 },
];

/**
 * A dimension as the product of SI base units that has it: `kg·m/s²`, `m²/(s²·K)`, `1/s`, and `1` for a plain
 * number. Fractional exponents print as `m^0.5`, an unknown dimension as `unknown`.
 */
export function formatDimension(dimension: Dimension): string {
  if (isUnknownDimension(dimension)) return 'unknown';
  const above: string[] = [];
  const below: string[] = [];
  for (const { symbol, index } of printed) {
    const exponent = dimension[index];
    if (Math.abs(exponent) <= exponentTolerance) continue;
    (exponent > 0 ? above : below).push(symbol + formatExponent(Math.abs(exponent)));
  }
  const numerator = above.length === 0 ? '1' : above.join('·');
  if (below.length === 0) return numerator;
  return `${numerator}/${below.length === 1 ? below[0] : `(${below.join('·')})`}`;
}

/**
 * A dimension for a sentence: the usual name of a quantity that has it, then its base units, `force (kg·m/s²)`;
 * the base units alone where no name is usual; `dimensionless (1)` for a plain number.
 *
 * Where several quantities share a dimension the name says so: `energy or torque (kg·m²/s²)`.
 */
export function describeDimension(dimension: Dimension): string {
  const bare = formatDimension(dimension);
  const name = usualNames.get(bare);
  return name === undefined ? bare : `${name} (${bare})`;
}

/** The exponent behind a unit symbol: nothing for 1, superscript for whole numbers, `^0.5` for fractions. */
export function formatExponent(exponent: number): string {
  const whole = Math.round(exponent);
  if (Math.abs(exponent - whole) > exponentTolerance) return `^${Number(exponent.toPrecision(6))}`;
  return whole === 1 ? '' : formatSuperscript(whole);
}

/** Whole numbers come back whole, so that equal dimensions print alike; −0 becomes 0. */
function tidy(exponent: number): number {
  const whole = Math.round(exponent);
  return Math.abs(exponent - whole) <= exponentTolerance ? whole + 0 : exponent;
}
