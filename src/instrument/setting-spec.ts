import type { Dimension, Kind } from '../quantity/index.ts';

interface Described {
  readonly name: string;
  /** What the setting is, in words that the manual prints. */
  readonly what: string;
  readonly required: boolean;
}

/** One number: a magnitude with its unit, or an expression of quantities. */
export interface NumberSpec extends Described {
  readonly kind: 'expression';
  /** 'of signal': the dimension of what the instrument looks at; 'any': whatever the expression has. */
  readonly dimension: Dimension | 'of signal' | 'any';
  /** In SI. Absent where the setting has no default and is not required. */
  readonly default?: number;
  readonly limits?: 'positive' | 'not negative';
  /** How a temperature in °C or °F is meant; an interval where not said. */
  readonly as?: Kind;
}

/** A whole number. */
export interface CountSpec extends Described {
  readonly kind: 'count';
  readonly least: number;
  readonly default?: number;
}

/** Two numbers, `{ from: 0 N, to: 50 N }`; either may be left out and is then without limit. */
export interface RangeSpec extends Described {
  readonly kind: 'range';
  readonly dimension: Dimension | 'of signal' | 'any';
  readonly as?: Kind;
}

/** Several numbers, `[0.2 m, 0.4 m]`. */
export interface ListSpec extends Described {
  readonly kind: 'list';
  readonly dimension: Dimension | 'of signal' | 'any';
  readonly least: number;
  readonly as?: Kind;
}

/** One of a few words. */
export interface ChoiceSpec extends Described {
  readonly kind: 'choice';
  readonly options: readonly string[];
  readonly default?: string;
}

/** A setting of an instrument, as data: the reader of the lab file, the schema and the manual use it. */
export type SettingSpec = NumberSpec | CountSpec | RangeSpec | ListSpec | ChoiceSpec;

/** One setting for one run: a number in SI, several (a range is its two ends), or a word. */
export type SettingValue = number | Float64Array | string;

/** Settings for one run; those that were not given and have no default are absent. */
export type SettingValues = ReadonlyMap<string, SettingValue>;

/** The number of a setting, or `otherwise` where it is absent. */
export function numberOf(settings: SettingValues, name: string, otherwise: number): number {
  const value = settings.get(name);
  return typeof value === 'number' ? value : otherwise;
}

/** The numbers of a setting, or undefined where it is absent. */
export function numbersOf(settings: SettingValues, name: string): Float64Array | undefined {
  const value = settings.get(name);
  return value instanceof Float64Array ? value : undefined;
}

/** The word of a setting, or `otherwise` where it is absent. */
export function wordOf(settings: SettingValues, name: string, otherwise: string): string {
  const value = settings.get(name);
  return typeof value === 'string' ? value : otherwise;
}
