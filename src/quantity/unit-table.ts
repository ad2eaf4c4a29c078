import type { Dimension } from './dimension.ts';

/**
 * One unit with a symbol of its own. In the SI coherent unit of its dimension it is
 * `mantissa / divisor × 10^decade`; the three are kept apart so that compound factors stay exact as long as possible.
 */
export interface UnitEntry {
  readonly symbol: string;
  /** Other symbols that are read, and may bear the prefixes; `symbol` is printed. */
  readonly spellings?: readonly string[];
  /** Written-out names that are read; they bear no prefix symbol. */
  readonly words?: readonly string[];
  /** English name, for advice; singular. */
  readonly name: string;
  readonly mantissa?: number;
  readonly divisor?: number;
  readonly decade?: number;
  /** SI value at a reading of 0; only for temperature scales. */
  readonly offset?: number;
  readonly dimension: Dimension;
  /** Exponent of plane angle. */
  readonly angle?: number;
  /** Prefix symbols that the unit may bear; 'all' for the 24 of the SI, none where absent. */
  readonly prefixes?: 'all' | readonly string[];
}

const one: Dimension = [0, 0, 0, 0, 0, 0, 0];
const length: Dimension = [1, 0, 0, 0, 0, 0, 0];
const volume: Dimension = [3, 0, 0, 0, 0, 0, 0];
const mass: Dimension = [0, 1, 0, 0, 0, 0, 0];
const time: Dimension = [0, 0, 1, 0, 0, 0, 0];
const perTime: Dimension = [0, 0, -1, 0, 0, 0, 0];
const charge: Dimension = [0, 0, 1, 1, 0, 0, 0];
const temperature: Dimension = [0, 0, 0, 0, 1, 0, 0];
const energy: Dimension = [2, 1, -2, 0, 0, 0, 0];
const pressure: Dimension = [-1, 1, -2, 0, 0, 0, 0];
const dose: Dimension = [2, 0, -2, 0, 0, 0, 0];
const luminous: Dimension = [0, 0, 0, 0, 0, 0, 1];

/** Base units. Source: SI Brochure, 9th edition, version 3.01 (2024), Table 2; the gram carries the prefixes of the kilogram. */
const base: readonly UnitEntry[] = [
  { symbol: 'm', name: 'metre', dimension: length, prefixes: 'all' },
  { symbol: 'g', name: 'gram', decade: -3, dimension: mass, prefixes: 'all' },
  { symbol: 's', name: 'second', dimension: time, prefixes: 'all' },
  { symbol: 'A', name: 'ampere', dimension: [0, 0, 0, 1, 0, 0, 0], prefixes: 'all' },
  // U+212A is the Kelvin sign of Unicode.
  { symbol: 'K', spellings: ['\u212A'], name: 'kelvin', dimension: temperature, prefixes: 'all' },
  { symbol: 'mol', name: 'mole', dimension: [0, 0, 0, 0, 0, 1, 0], prefixes: 'all' },
  { symbol: 'cd', name: 'candela', dimension: luminous, prefixes: 'all' },
];

/** Derived units with special names. Source: SI Brochure, 9th edition, Table 4. Angle: lm = cd·sr, lx = lm/m². */
const derived: readonly UnitEntry[] = [
  { symbol: 'rad', name: 'radian', dimension: one, angle: 1, prefixes: ['m', 'µ', 'n', 'p'] },
  { symbol: 'sr', name: 'steradian', dimension: one, angle: 2, prefixes: ['m', 'µ'] },
  { symbol: 'Hz', name: 'hertz', dimension: perTime, prefixes: 'all' },
  { symbol: 'N', name: 'newton', dimension: [1, 1, -2, 0, 0, 0, 0], prefixes: 'all' },
  { symbol: 'Pa', name: 'pascal', dimension: pressure, prefixes: 'all' },
  { symbol: 'J', name: 'joule', dimension: energy, prefixes: 'all' },
  { symbol: 'W', name: 'watt', dimension: [2, 1, -3, 0, 0, 0, 0], prefixes: 'all' },
  { symbol: 'C', name: 'coulomb', dimension: charge, prefixes: 'all' },
  { symbol: 'V', name: 'volt', dimension: [2, 1, -3, -1, 0, 0, 0], prefixes: 'all' },
  { symbol: 'F', name: 'farad', dimension: [-2, -1, 4, 2, 0, 0, 0], prefixes: 'all' },
  // U+03A9 is the Greek letter, U+2126 the Ohm sign of Unicode.
  {
    symbol: 'Ω',
    spellings: ['\u2126', 'ohm', 'Ohm'],
    name: 'ohm',
    dimension: [2, 1, -3, -2, 0, 0, 0],
    prefixes: 'all',
  },
  { symbol: 'S', name: 'siemens', dimension: [-2, -1, 3, 2, 0, 0, 0], prefixes: 'all' },
  { symbol: 'Wb', name: 'weber', dimension: [2, 1, -2, -1, 0, 0, 0], prefixes: 'all' },
  { symbol: 'T', name: 'tesla', dimension: [0, 1, -2, -1, 0, 0, 0], prefixes: 'all' },
  { symbol: 'H', name: 'henry', dimension: [2, 1, -2, -2, 0, 0, 0], prefixes: 'all' },
  // U+2103 is the degree Celsius sign of Unicode.
  {
    symbol: '°C',
    spellings: ['degC', '\u2103'],
    name: 'degree Celsius',
    offset: 273.15,
    dimension: temperature,
    prefixes: ['m', 'µ'],
  },
  { symbol: 'lm', name: 'lumen', dimension: luminous, angle: 2, prefixes: 'all' },
  { symbol: 'lx', name: 'lux', dimension: [-2, 0, 0, 0, 0, 0, 1], angle: 2, prefixes: 'all' },
  { symbol: 'Bq', name: 'becquerel', dimension: perTime, prefixes: 'all' },
  { symbol: 'Gy', name: 'gray', dimension: dose, prefixes: 'all' },
  { symbol: 'Sv', name: 'sievert', dimension: dose, prefixes: 'all' },
  { symbol: 'kat', name: 'katal', dimension: [0, 0, -1, 0, 0, 1, 0], prefixes: 'all' },
];

/**
 * Units accepted for use with the SI. Source: SI Brochure, 9th edition, Table 8; values are exact except:
 * - u, Da: 1.660 539 068 92(52)e-27 kg, CODATA 2022 (NIST, 2024);
 * - eV: exact since 2019, the elementary charge in joules.
 */
const accepted: readonly UnitEntry[] = [
  { symbol: 'min', words: ['minute', 'minutes'], name: 'minute', mantissa: 60, dimension: time },
  { symbol: 'h', words: ['hour', 'hours'], name: 'hour', mantissa: 3600, dimension: time },
  { symbol: 'd', words: ['day', 'days'], name: 'day', mantissa: 86400, dimension: time },
  {
    symbol: '°',
    spellings: ['deg'],
    words: ['degree', 'degrees'],
    name: 'degree',
    mantissa: Math.PI,
    divisor: 180,
    dimension: one,
    angle: 1,
  },
  // U+2032 and U+2033 are the prime signs; ' and " are not read, they also stand for feet and inches.
  {
    symbol: '\u2032',
    spellings: ['arcmin'],
    name: 'minute of arc',
    mantissa: Math.PI,
    divisor: 10800,
    dimension: one,
    angle: 1,
  },
  {
    symbol: '\u2033',
    spellings: ['arcsec'],
    name: 'second of arc',
    mantissa: Math.PI,
    divisor: 648000,
    dimension: one,
    angle: 1,
  },
  {
    symbol: 'L',
    spellings: ['l', '\u2113'],
    words: ['litre', 'litres', 'liter', 'liters'],
    name: 'litre',
    decade: -3,
    dimension: volume,
    prefixes: 'all',
  },
  { symbol: 't', name: 'tonne', decade: 3, dimension: mass, prefixes: ['k', 'M', 'G'] },
  { symbol: 'ha', name: 'hectare', decade: 4, dimension: [2, 0, 0, 0, 0, 0, 0] },
  {
    symbol: 'eV',
    name: 'electronvolt',
    mantissa: 1.602176634,
    decade: -19,
    dimension: energy,
    prefixes: 'all',
  },
  { symbol: 'u', name: 'atomic mass unit', mantissa: 1.66053906892, decade: -27, dimension: mass },
  {
    symbol: 'Da',
    name: 'dalton',
    mantissa: 1.66053906892,
    decade: -27,
    dimension: mass,
    prefixes: ['k', 'M'],
  },
  { symbol: 'au', name: 'astronomical unit', mantissa: 149597870700, dimension: length },
];

/**
 * Units that instruments in schools show although the SI does not list them. Sources:
 * - r, turns: ISO 80000-3:2019, the revolution is 2π rad; rpm is r/min;
 * - bar, atm, mmHg, Torr, ångström: NIST Special Publication 811 (2008), Appendix B.8:
 *   bar = 1e5 Pa, atm = 101 325 Pa, Torr = atm/760, mmHg (conventional) = 13 595.1 kg/m³ · 9.806 65 m/s² · 1 mm;
 * - °F: NIST SP 811 B.8, K = (°F + 459.67)/1.8;
 * - in, ft: exact by the international yard and pound agreement of 1959, 25.4 mm and 0.3048 m;
 * - Wh, Ah: 3600 J, 3600 C by definition of the hour;
 * - dpt, the dioptre 1/m: ISO 13666:2019.
 */
const customary: readonly UnitEntry[] = [
  {
    symbol: 'r',
    spellings: ['rev'],
    words: ['turn', 'turns'],
    name: 'revolution',
    mantissa: 2 * Math.PI,
    dimension: one,
    angle: 1,
  },
  {
    symbol: 'rpm',
    name: 'revolution per minute',
    mantissa: 2 * Math.PI,
    divisor: 60,
    dimension: perTime,
    angle: 1,
  },
  { symbol: 'bar', name: 'bar', decade: 5, dimension: pressure, prefixes: ['M', 'k', 'm', 'µ'] },
  { symbol: 'atm', name: 'standard atmosphere', mantissa: 101325, dimension: pressure },
  { symbol: 'mmHg', name: 'millimetre of mercury', mantissa: 133.322387415, dimension: pressure },
  { symbol: 'Torr', name: 'torr', mantissa: 101325, divisor: 760, dimension: pressure, prefixes: ['m'] },
  // U+2109 is the degree Fahrenheit sign of Unicode.
  {
    symbol: '°F',
    spellings: ['degF', '\u2109'],
    name: 'degree Fahrenheit',
    mantissa: 5,
    divisor: 9,
    offset: (459.67 * 5) / 9,
    dimension: temperature,
  },
  { symbol: 'in', words: ['inch', 'inches'], name: 'inch', mantissa: 2.54, decade: -2, dimension: length },
  { symbol: 'ft', words: ['foot', 'feet'], name: 'foot', mantissa: 0.3048, dimension: length },
  // U+212B is the Ångström sign of Unicode.
  { symbol: 'Å', spellings: ['\u212B'], name: 'ångström', decade: -10, dimension: length },
  { symbol: 'Wh', name: 'watt hour', mantissa: 3600, dimension: energy, prefixes: ['m', 'k', 'M', 'G', 'T'] },
  { symbol: 'Ah', name: 'ampere hour', mantissa: 3600, dimension: charge, prefixes: ['m', 'k'] },
  { symbol: 'dpt', name: 'dioptre', dimension: [-1, 0, 0, 0, 0, 0, 0] },
];

/** Ratios written as units. Source: SI Brochure, 9th edition, 5.4.7; ppm is 1e-6 in every language, ppb is not and is left out. */
const ratios: readonly UnitEntry[] = [
  { symbol: '%', words: ['percent'], name: 'percent', decade: -2, dimension: one },
  { symbol: '‰', words: ['permille'], name: 'permille', decade: -3, dimension: one },
  { symbol: 'ppm', name: 'part per million', decade: -6, dimension: one },
];

/** Every unit with a symbol of its own. */
export const unitTable: readonly UnitEntry[] = [...base, ...derived, ...accepted, ...customary, ...ratios];
