/**
 * Text of a stranger's lab made harmless for a terminal: control characters, which could move the cursor or change
 * colours, and marks that reverse the direction of writing are replaced by U+FFFD. Line breaks become spaces.
 */
export function tame(text: string): string {
  return text.replace(/[\t\n\r]+/g, ' ').replace(/[\p{Cc}\u202a-\u202e\u2066-\u2069]/gu, '\ufffd');
}

const signs: ReadonlyMap<string, string> = new Map([
  ['±', '+/-'],
  ['−', '-'],
  ['–', '-'],
  ['—', '-'],
  ['·', '*'],
  ['×', 'x'],
  ['µ', 'u'],
  ['μ', 'u'],
  ['Ω', 'Ohm'],
  ['Ω', 'Ohm'],
  ['°', ' deg'],
  ['′', "'"],
  ['″', '"'],
  ['…', '...'],
  ['“', '"'],
  ['”', '"'],
  ['‘', "'"],
  ['’', "'"],
  ['→', '->'],
  ['≤', '<='],
  ['≥', '>='],
  ['≈', '~'],
  ['∞', 'infinity'],
  ['√', 'sqrt'],
  ['χ', 'chi'],
  ['ν', 'nu'],
  ['\u00a0', ' '],
  ['\u202f', ' '],
  ['\u2009', ' '],
]);

const raised = '⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺';
const unraised = '0123456789-+';

/** Text for terminals that know nothing but ASCII: 'm/s²' is 'm/s^2', '±' is '+/-', 'é' is 'e', others '?'. */
export function toAscii(text: string): string {
  return text
    .replace(
      /[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺]+/g,
      (power) => `^${[...power].map((sign) => unraised[raised.indexOf(sign)]).join('')}`,
    )
    .replace(/[^\u0020-\u007e]/gu, (sign) => signs.get(sign) ?? bareLetter(sign));
}

function bareLetter(sign: string): string {
  const bare = sign.normalize('NFKD').replace(/[^\u0020-\u007e]/gu, '');
  if (bare !== '') return bare;
  return /\p{Mark}/u.test(sign) ? '' : '?';
}
