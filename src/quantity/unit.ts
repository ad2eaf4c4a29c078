import { log10, power } from '../wasm/index.ts';
import { type Dimension, dimensionless, multiplyDimensions, raiseDimension } from './dimension.ts';

/**
 * A unit as the author wrote it, and what it means: SI value = value · factor + offset.
 *
 * `offset` is not 0 only for a lone °C or °F, and counts only where a value is a point on the scale, not an
 * interval. `angle` is the exponent of plane angle (rad, degree, rpm: 1; Hz: 0): dimension checks ignore it,
 * conversion between units that differ in it is refused.
 */
export interface Unit {
  readonly text: string;
  readonly factor: number;
  readonly offset: number;
  readonly dimension: Dimension;
  readonly angle: number;
}

/**
 * Whether a number is a place on a scale or a distance on it: 20 °C is 293.15 K as a point, and 20 K as an
 * interval. Uncertainties, resolutions and differences are intervals.
 */
export type Kind = 'point' | 'interval';

/**
 * SI value of `value` in `unit`. Where the unit is a power of ten smaller than the SI unit this divides by an
 * exact number instead of multiplying by an inexact one, so that 96.4 g is 0.0964 kg to the last bit.
 */
export function toSI(value: number, unit: Unit, as: Kind): number {
  const inverse = exactInverse(unit.factor);
  const scaled = inverse === undefined ? value * unit.factor : value / inverse;
  return as === 'point' ? scaled + unit.offset : scaled;
}

/** Value in `unit` of an SI value; the inverse of `toSI`. */
export function fromSI(value: number, unit: Unit, as: Kind): number {
  const shifted = as === 'point' ? value - unit.offset : value;
  const inverse = exactInverse(unit.factor);
  return inverse === undefined ? shifted / unit.factor : shifted * inverse;
}

/** The exponent n where `factor` is exactly the double nearest to 10ⁿ, else undefined. */
export function decadeOf(factor: number): number | undefined {
  const decade = Math.round(log10(factor));
  return Number.isFinite(decade) && Number(`1e${decade}`) === factor ? decade : undefined;
}

/** 10ⁿ for a factor of 10⁻ⁿ; doubles hold powers of ten exactly up to 10²². */
function exactInverse(factor: number): number | undefined {
  if (factor >= 1) return undefined;
  const decade = decadeOf(factor);
  return decade === undefined || decade < -22 ? undefined : Number(`1e${-decade}`);
}

/** A unit while it is being built up: mantissa / divisor × 10^decade. */
export interface Factor {
  readonly mantissa: number;
  readonly divisor: number;
  readonly decade: number;
  readonly offset: number;
  readonly dimension: Dimension;
  readonly angle: number;
}

export const factorOne: Factor = {
  mantissa: 1,
  divisor: 1,
  decade: 0,
  offset: 0,
  dimension: dimensionless,
  angle: 0,
};

/** Product of two units. A scale with its own zero loses it: J/(kg °C) counts intervals. */
export function multiplyFactors(a: Factor, b: Factor): Factor {
  return {
    mantissa: a.mantissa * b.mantissa,
    divisor: a.divisor * b.divisor,
    decade: a.decade + b.decade,
    offset: 0,
    dimension: multiplyDimensions(a.dimension, b.dimension),
    angle: a.angle + b.angle,
  };
}

/** Power of a unit; `n` may be negative or a fraction. */
export function raiseFactor(a: Factor, n: number): Factor {
  if (n === 1) return a;
  const decade = a.decade * n;
  const whole = Math.round(decade);
  const rest = 10 ** (decade - whole);
  const [up, down] = n >= 0 ? [a.mantissa, a.divisor] : [a.divisor, a.mantissa];
  return {
    mantissa: power(up, Math.abs(n)) * (decade === whole ? 1 : rest),
    divisor: power(down, Math.abs(n)),
    decade: whole,
    offset: 0,
    dimension: raiseDimension(a.dimension, n),
    angle: a.angle * n + 0,
  };
}

/** The finished unit. Reading the power of ten as decimal text rounds once; multiplying by it would round twice. */
export function finishUnit(text: string, factor: Factor): Unit {
  const { mantissa, divisor, decade, offset, dimension, angle } = factor;
  const scale = Number(`${mantissa}e${decade}`) / divisor;
  return { text, factor: scale, offset, dimension, angle };
}
