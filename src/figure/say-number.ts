import { formatMeasured, formatNumber } from '../quantity/index.ts';
import type { Wording } from './wording.ts';

/**
 * A number with its unit for a sentence, to three significant digits unless told otherwise.
 *
 * @param significant null for a number that was chosen, not found: as many digits as it has
 */
export function sayNumber(
  value: number,
  unit: string,
  wording: Wording,
  significant: number | null = 3,
): string {
  const number = formatNumber(value, {
    ...(significant === null ? {} : { significant }),
    decimalMark: wording.decimalMark,
  });
  return unit === '' || unit === '1' ? number : `${number}${isAngleSign(unit) ? '' : ' '}${unit}`;
}

/** Below this share of the value an uncertainty is what rounding in the computer leaves of none. */
const ROUNDING = 1e-11;

/** A value with its standard uncertainty, as `2.220(10) 1/s²`. */
export function sayMeasured(
  value: number,
  standardUncertainty: number,
  unit: string,
  wording: Wording,
): string {
  const { decimalMark } = wording;
  const u = standardUncertainty <= ROUNDING * Math.abs(value) ? 0 : standardUncertainty;
  return formatMeasured({
    value,
    standardUncertainty: u,
    unit,
    decimalMark,
    notation: 'brackets',
    significant: 5,
  });
}

/** A change with its sign: '+0.0123(45) 1/s²', '−0.5'. */
export function sayChange(
  value: number,
  standardUncertainty: number,
  unit: string,
  wording: Wording,
): string {
  const text = sayMeasured(value, standardUncertainty, unit, wording);
  return value > 0 ? `+${text}` : text;
}

function isAngleSign(unit: string): boolean {
  return /^[°\u2032\u2033]$/u.test(unit);
}

/** Numbers of more decimals than this are no longer read at a glance. */
const MOST_DECIMALS = 9;

/**
 * A value with its standard uncertainty for a column of them: as `sayMeasured`, but written out where that would take
 * a power of ten and the digits still fit, so that numbers of one column compare: 0.0007690(62), not 7.690(62)×10⁻⁴.
 */
export function writeMeasured(value: number, standardUncertainty: number, wording: Wording): string {
  const usual = sayMeasured(value, standardUncertainty, '', wording);
  if (!usual.includes('×10') || Math.abs(value) >= 1) return usual;
  const rounded = Number(standardUncertainty.toPrecision(2));
  const decimals = 1 - Math.floor(Math.log10(rounded));
  if (!(decimals >= 1 && decimals <= MOST_DECIMALS)) return usual;
  const { decimalMark } = wording;
  const digits = Math.round(rounded * 10 ** decimals);
  return `${formatNumber(value, { decimals, decimalMark })}(${digits})`;
}
