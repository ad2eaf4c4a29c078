/** A decimal number of known precision: ± coefficient × 10^place; `coefficient` has digits only. */
export interface Decimal {
  readonly negative: boolean;
  readonly coefficient: string;
  readonly place: number;
}

export type DecimalMark = '.' | ',';

/** The minus sign U+2212, as wide as a plus; `parseMagnitude` reads it. */
const minus = '\u2212';

/**
 * A finite double as the shortest decimal text that names it, which is what a person would see and round by hand:
 * 1.005 is 1.005 here, although the double lies slightly below.
 */
export function toDecimal(value: number): Decimal {
  const [mantissa, exponent] = Math.abs(value).toExponential().split('e');
  const digits = mantissa.replace('.', '');
  return { negative: value < 0, coefficient: digits, place: Number(exponent) - (digits.length - 1) };
}

/** The power of ten of the first digit that is not 0; −Infinity for 0. */
export function leadingPlace(decimal: Decimal): number {
  const digits = decimal.coefficient.replace(/^0+/, '');
  return digits === '' ? -Infinity : decimal.place + digits.length - 1;
}

/**
 * Rounds to a multiple of 10^place, a half away from 0.
 *
 * Source of the policy: ISO 80000-1:2009, Annex B, rule B (of two equally near multiples the larger in magnitude; rule A
 * takes the even one). It is the rule that schools teach.
 */
export function roundToPlace(decimal: Decimal, place: number): Decimal {
  const dropped = place - decimal.place;
  if (dropped <= 0) return { ...decimal, coefficient: decimal.coefficient + '0'.repeat(-dropped), place };
  const digits = decimal.coefficient.padStart(dropped + 1, '0');
  const kept = BigInt(digits.slice(0, -dropped));
  const up = digits[digits.length - dropped] >= '5';
  return { negative: decimal.negative, coefficient: String(up ? kept + 1n : kept), place };
}

/**
 * Rounds to a number of significant digits, a half away from 0. Where rounding up brings one digit more (0.0996 to
 * two digits), the place moves with it: 0.10.
 */
export function roundToSignificant(decimal: Decimal, digits: number): Decimal {
  const lead = leadingPlace(decimal);
  if (lead === -Infinity) return { negative: false, coefficient: '0', place: 0 };
  const rounded = roundToPlace(decimal, lead - digits + 1);
  return leadingPlace(rounded) > lead ? roundToPlace(decimal, lead - digits + 2) : rounded;
}

/** Drops zeros at the end behind the decimal mark. */
export function trimZeros(decimal: Decimal): Decimal {
  const droppable = Math.max(0, -decimal.place);
  const zeros = Math.min(droppable, (/0*$/.exec(decimal.coefficient)?.[0] ?? '').length);
  if (zeros === 0) return decimal;
  const coefficient = decimal.coefficient.slice(0, -zeros);
  return { ...decimal, coefficient: coefficient === '' ? '0' : coefficient, place: decimal.place + zeros };
}

/** The digits with their mark, divided by 10^scale; no sign for a zero. */
export function printDecimal(decimal: Decimal, decimalMark: DecimalMark, scale = 0): string {
  const decimals = scale - decimal.place;
  const digits =
    decimals < 0
      ? decimal.coefficient + '0'.repeat(-decimals)
      : decimal.coefficient.padStart(decimals + 1, '0');
  const cut = digits.length - Math.max(0, decimals);
  const whole = digits.slice(0, cut).replace(/^0+(?=\d)/, '');
  const text = decimals > 0 ? `${whole}${decimalMark}${digits.slice(cut)}` : whole;
  return decimal.negative && /[1-9]/.test(text) ? minus + text : text;
}
