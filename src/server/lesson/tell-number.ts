import type { StationOfGroup } from '../../classroom/index.ts';
import { inItsUnit, type LabResult } from '../../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../../quantity/index.ts';
import type { JudgedNumber, Standing } from './lesson.ts';

/** What a group is told: neither which way, nor how far, since that would be the answer. */
export const standingWords: Readonly<Record<Standing, string>> = {
  inside: 'plausible: it lies where this station is expected to lie',
  near: 'nearly: a little outside of what this station is expected to give; look at your readings again',
  far: 'not plausible: something is off; check readings, units and steps',
  unknown: 'entered; there is nothing to hold it against',
};

/** As it was typed, else with four digits, and the unit. */
export function tellNumber({ value, written }: JudgedNumber, { unit }: LabResult): string {
  const text = written === '' ? formatNumber(fromSI(value, unit, 'point'), { significant: 4 }) : written;
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
