import {
  type Decimal,
  type DecimalMark,
  leadingPlace,
  printDecimal,
  roundToPlace,
  roundToSignificant,
  toDecimal,
  trimZeros,
} from './decimal.ts';
import { formatSuperscript } from './superscript.ts';

export interface NumberFormat {
  /** Significant digits, 1 to 17. */
  readonly significant?: number;
  /** Digits behind the decimal mark, 0 to 100; wins over `significant`. */
  readonly decimals?: number;
  /** The point unless given. */
  readonly decimalMark?: DecimalMark;
}

/** Numbers whose first digit stands at these powers of ten are printed without an exponent. */
const plainPlaces = { least: -4, most: 5 } as const;

/** Enough for every measured value, and few enough to hide that 0.1 + 0.2 is not 0.3. */
const usualDigits = 12;

/**
 * A plain number for people: `0.0123`, `−4.5`, `1.23×10⁻⁷`, `3,57`.
 *
 * - `significant`: rounded to so many digits, zeros at the end kept; but no digit before the decimal mark is rounded
 *   away below 1e6, so 1234.5 to three digits is 1235, not 1230;
 * - `decimals`: so many digits behind the mark, never an exponent below 1e15;
 * - neither: as many digits as the number has, at most 12, no zeros at the end.
 *
 * Rounds a half away from 0. Not finite prints in words: `not a number`, `∞`, `−∞`.
 */
export function formatNumber(value: number, format: NumberFormat = {}): string {
  const decimalMark = format.decimalMark ?? '.';
  if (!Number.isFinite(value)) return formatNotFinite(value);
  const exact = toDecimal(value);
  const lead = leadingPlace(exact);
  if (format.decimals !== undefined && lead < 15)
    return printDecimal(roundToPlace(exact, -format.decimals), decimalMark);
  if (value === 0) return '0';
  if (format.significant === undefined)
    return printScaled(trimZeros(roundToSignificant(exact, usualDigits)), decimalMark, true);
  const rounded = roundToSignificant(exact, format.significant);
  const overRounded = rounded.place > 0 && leadingPlace(rounded) <= plainPlaces.most;
  return printScaled(overRounded ? roundToPlace(exact, 0) : rounded, decimalMark, false);
}

/** ∞ and its like, in words or signs that a table can hold. */
export function formatNotFinite(value: number): string {
  if (Number.isNaN(value)) return 'not a number';
  return value > 0 ? '∞' : '\u2212∞';
}

/** ×10⁻⁴; nothing for 0. */
export function formatPowerOfTen(exponent: number): string {
  return exponent === 0 ? '' : `×10${formatSuperscript(exponent)}`;
}

function printScaled(decimal: Decimal, decimalMark: DecimalMark, trim: boolean): string {
  const lead = leadingPlace(decimal);
  if (lead >= plainPlaces.least && lead <= plainPlaces.most) return printDecimal(decimal, decimalMark);
  const mantissa: Decimal = { ...decimal, place: decimal.place - lead };
  return printDecimal(trim ? trimZeros(mantissa) : mantissa, decimalMark) + formatPowerOfTen(lead);
}
