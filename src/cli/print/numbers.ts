import type { DecimalMark } from '../../quantity/index.ts';
import { formatNumber } from '../../quantity/index.ts';
import type { Page } from './page.ts';

/** A number of a table, in the table's unit; no uncertainty where it is exact, NaN where none is known. */
export interface TableNumber {
  readonly value: number;
  readonly standardUncertainty?: number;
  /** Whether a positive number bears its sign, as a change does. */
  readonly signed?: boolean;
}

/** Numbers of one column, printed: all the same width, decimal marks below each other. */
export interface NumberColumn {
  readonly values: readonly string[];
  /** '± 0.024', or blank. */
  readonly uncertainties: readonly string[];
  /** Power of ten that stands in the heading for all numbers; 0 for none. */
  readonly exponent: number;
}

/** Digits of a number whose uncertainty is not known. */
const usualDigits = 5;

/** Digits that a double can answer for, whatever the uncertainty. */
const mostDigits = 15;

/**
 * Prints numbers of one unit below each other: each rounded to the place of its uncertainty's second digit, aligned
 * at the decimal mark. Where the numbers are very large or small a common power of ten is taken out.
 *
 * @param exponent the power of ten to take out where another column has chosen it
 * Source of the two digits: JCGM 100:2008, 7.2.6
 */
export function alignNumbers(
  page: Page,
  numbers: readonly TableNumber[],
  exponent: number = commonExponent(numbers),
): NumberColumn {
  const largest = Math.max(0, ...numbers.map(({ value }) => Math.abs(value)).filter(Number.isFinite));
  const scaled = numbers.map((number) => scale(withoutNoise(number, largest), exponent));
  const decimals = scaled.map(decimalsOf);
  const finest = Math.max(0, ...decimals.flatMap((places) => places ?? []));
  const values = scaled.map((number, index) =>
    printValue(number, decimals[index] ?? defaultDecimals(number, finest), page.decimalMark),
  );
  const uncertainties = scaled.map(({ standardUncertainty: u }, index) => {
    if (u === undefined || u === 0) return '';
    return `± ${Number.isFinite(u) ? formatNumber(roundTwo(u), { decimals: decimals[index] ?? 0, decimalMark: page.decimalMark }) : '?'}`;
  });
  return {
    values: alignAtMark(values.map(page.plain), page.decimalMark),
    uncertainties: alignEnds(uncertainties.map(page.plain)),
    exponent,
  };
}

/** '3.4', '−0.6', '+0.3': a number of standard uncertainties, or any other of which one decimal is enough. */
export function printRough(page: Page, value: number, decimals = 1, signed = false): string {
  if (!Number.isFinite(value)) return page.plain(Number.isNaN(value) ? '?' : value > 0 ? '∞' : '−∞');
  const text = formatNumber(value, { decimals, decimalMark: page.decimalMark });
  if (!/[1-9]/.test(text)) return text.replace('−', '');
  return page.plain(signed && value > 0 ? `+${text}` : text);
}

/** 'in 10⁻⁶ kg·m²'; 'plain number' where there is neither unit nor power. */
export function unitHeading(page: Page, unit: string, exponent: number): string {
  const power = exponent === 0 ? '' : formatNumber(10 ** exponent, { significant: 1 }).replace('1×', '');
  const words = [power, unit].filter((part) => part !== '').join(' ');
  return page.plain(words);
}

/** Motions are found to nine digits: an uncertainty far below that is the computer's, not the experiment's. */
const noise = 1e-9;

function withoutNoise(number: TableNumber, largest: number): TableNumber {
  const { standardUncertainty: u } = number;
  return u !== undefined && u < noise * largest ? { ...number, standardUncertainty: 0 } : number;
}

function scale(number: TableNumber, exponent: number): TableNumber {
  if (exponent === 0) return number;
  const factor = 10 ** -exponent;
  const value = number.value * factor;
  return number.standardUncertainty === undefined
    ? { ...number, value }
    : { ...number, value, standardUncertainty: number.standardUncertainty * factor };
}

/** Numbers from 0.001 to a million stand as they are, unless digits before the decimal mark would not be significant. */
function commonExponent(numbers: readonly TableNumber[]): number {
  const sizes = numbers
    .map(({ value }) => Math.abs(value))
    .filter((size) => size > 0 && Number.isFinite(size));
  if (sizes.length === 0) return 0;
  const lead = Math.floor(Math.log10(Math.max(...sizes)));
  const coarse = numbers.some(
    ({ standardUncertainty: u }) => u !== undefined && Number.isFinite(u) && roundTwo(u) >= 100,
  );
  if (!coarse && lead >= -3 && lead < 6) return 0;
  return lead;
}

/** Decimals at which the uncertainty's second digit stands; undefined where there is no uncertainty to go by. */
function decimalsOf({ standardUncertainty: u }: TableNumber): number | undefined {
  if (u === undefined || !Number.isFinite(u) || u === 0) return undefined;
  const lead = Math.floor(Math.log10(roundTwo(Math.abs(u))) + 1e-9);
  return Math.min(Math.max(1 - lead, 0), mostDigits);
}

function defaultDecimals({ value }: TableNumber, finest: number): number {
  if (finest > 0 || value === 0 || !Number.isFinite(value)) return finest;
  return Math.min(Math.max(usualDigits - 1 - Math.floor(Math.log10(Math.abs(value))), 0), mostDigits);
}

function roundTwo(u: number): number {
  return Number(u.toPrecision(2));
}

function printValue({ value, signed }: TableNumber, decimals: number, decimalMark: DecimalMark): string {
  if (Number.isNaN(value)) return '?';
  const text = formatNumber(value, { decimals, decimalMark });
  return signed === true && value > 0 ? `+${text}` : text;
}

function alignAtMark(texts: readonly string[], mark: DecimalMark): string[] {
  const split = texts.map((text) => {
    const at = text.indexOf(mark);
    return at < 0 ? { before: text, after: '' } : { before: text.slice(0, at), after: text.slice(at) };
  });
  const before = Math.max(0, ...split.map((part) => part.before.length));
  const after = Math.max(0, ...split.map((part) => part.after.length));
  return split.map((part) => part.before.padStart(before) + part.after.padEnd(after));
}

function alignEnds(texts: readonly string[]): string[] {
  const width = Math.max(0, ...texts.map((text) => text.length));
  return texts.map((text) => text.padEnd(width));
}
