import type { StationOfGroup } from '../../classroom/index.ts';
import { inItsUnit, type LabResult } from '../../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../quantity/index.ts';
import type { JudgedNumber } from './lesson.ts';

/** As it was typed, else with four digits, and the unit. */
export function tellNumber(
  { value, written }: JudgedNumber,
  { unit }: LabResult,
  decimalMark: '.' | ',',
): string {
  const text =
    written === '' ? formatNumber(fromSI(value, unit, 'point'), { significant: 4, decimalMark }) : written;
  const name = unitText(unit);
  return written !== '' && /[A-Za-zµ°]/.test(written.replace(/\d[eE]/g, ''))
    ? text
    : `${text} ${name}`.trim();
}

export function unitText(unit: LabResult['unit']): string {
  const text = formatUnit(unit);
  return text === '1' ? '' : text;
}

/** 'L = 1.25 m', one a quantity that the station sets. */
export function tellValues({
  set,
}: StationOfGroup): readonly { readonly what: string; readonly value: string }[] {
  return set.map(({ quantity, value }) => ({
    what: quantity.is === '' ? quantity.name : `${quantity.is} (${quantity.name})`,
    value: inItsUnit(quantity, value),
  }));
}
