/** A decimal prefix: its printed symbol and the power of ten it stands for. */
export interface Prefix {
  readonly symbol: string;
  readonly name: string;
  readonly decade: number;
}

/** The 24 prefixes of the SI. Source: SI Brochure, 9th edition, version 3.01 (2024), Table 7. */
export const prefixes: readonly Prefix[] = [
  { symbol: 'Q', name: 'quetta', decade: 30 },
  { symbol: 'R', name: 'ronna', decade: 27 },
  { symbol: 'Y', name: 'yotta', decade: 24 },
  { symbol: 'Z', name: 'zetta', decade: 21 },
  { symbol: 'E', name: 'exa', decade: 18 },
  { symbol: 'P', name: 'peta', decade: 15 },
  { symbol: 'T', name: 'tera', decade: 12 },
  { symbol: 'G', name: 'giga', decade: 9 },
  { symbol: 'M', name: 'mega', decade: 6 },
  { symbol: 'k', name: 'kilo', decade: 3 },
  { symbol: 'h', name: 'hecto', decade: 2 },
  { symbol: 'da', name: 'deca', decade: 1 },
  { symbol: 'd', name: 'deci', decade: -1 },
  { symbol: 'c', name: 'centi', decade: -2 },
  { symbol: 'm', name: 'milli', decade: -3 },
  { symbol: 'µ', name: 'micro', decade: -6 },
  { symbol: 'n', name: 'nano', decade: -9 },
  { symbol: 'p', name: 'pico', decade: -12 },
  { symbol: 'f', name: 'femto', decade: -15 },
  { symbol: 'a', name: 'atto', decade: -18 },
  { symbol: 'z', name: 'zepto', decade: -21 },
  { symbol: 'y', name: 'yocto', decade: -24 },
  { symbol: 'r', name: 'ronto', decade: -27 },
  { symbol: 'q', name: 'quecto', decade: -30 },
];

/** Spellings of µ: the micro sign U+00B5 (printed), the Greek letter U+03BC, and u where a keyboard has neither. */
export const microSpellings: readonly string[] = ['µ', 'μ', 'u'];
