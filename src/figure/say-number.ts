import { formatMeasured, formatNumber } from '../quantity/index.ts';
import type { Wording } from './wording.ts';

/** A number with its unit for a sentence, to three significant digits unless told otherwise. */
export function sayNumber(value: number, unit: string, wording: Wording, significant = 3): string {
  const number = formatNumber(value, { significant, decimalMark: wording.decimalMark });
  return unit === '' || unit === '1' ? number : `${number}${isAngleSign(unit) ? '' : ' '}${unit}`;
}

/** A value with its standard uncertainty, as `2.220(10) 1/s²`. */
export function sayMeasured(
  value: number,
  standardUncertainty: number,
  unit: string,
  wording: Wording,
): string {
  const { decimalMark } = wording;
  return formatMeasured({
    value,
    standardUncertainty,
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
