import type { NumberAxis } from '../figure.ts';
import { fromText, joinText, type RichText } from '../rich-text.ts';
import { powerOfTen } from '../ticks.ts';

/** The stroke between quantity and unit, on one line with both. */
const OVER = '\u00a0/\u00a0';

/**
 * What stands at an axis: the quantity over its unit, `v² / (m²/s²)`, because what the axis numbers is the quotient of
 * the two (ISO 80000-1:2009, 7.1.3 and the notes on tables and graphs). A power of ten that the labels leave out
 * stands with the unit.
 */
export function axisTitle(axis: Pick<NumberAxis, 'quantity' | 'unit'>, exponent = 0): RichText {
  const unit = axis.unit === '1' ? '' : axis.unit;
  if (unit === '' && exponent === 0) return axis.quantity;
  if (exponent === 0) return joinText(axis.quantity, OVER, isProduct(unit) ? `(${unit})` : unit);
  const power = powerOfTen(exponent);
  if (unit === '') return joinText(axis.quantity, OVER, power);
  return joinText(
    axis.quantity,
    `${OVER}(`,
    power,
    ' ',
    fromText(isProduct(unit) && unit.includes('/') ? `(${unit})` : unit),
    ')',
  );
}

/** A unit made of several needs brackets behind a stroke. */
function isProduct(unit: string): boolean {
  return /[·/ ]/u.test(unit);
}
