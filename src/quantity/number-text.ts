import { readSuperscript } from './superscript.ts';

/** A number at the start of a text. `decimal` is what `Number` reads; offsets are in UTF-16 units. */
export type NumberText =
  | {
      readonly ok: true;
      readonly start: number;
      readonly end: number;
      readonly digits: string;
      readonly decimal: string;
    }
  | {
      readonly ok: false;
      readonly offset: number;
      readonly code: string;
      readonly message: string;
      readonly tryThis?: string;
    };

/** White space that may part groups of three digits: space, no-break space, thin space, narrow no-break space. */
const group = '[ \\u00A0\\u2009\\u202F]';
const integer = `(?:\\d{1,3}(?:${group}\\d{3})+(?!\\d)|\\d+)`;
const sign = '[+\\-\\u2212]?';
const mantissaPattern = new RegExp(`${sign}(?:${integer}(?:[.,]\\d*)?|[.,]\\d+)`, 'y');
/** Letter e, or times ten to a power: ×10^-3, *10^-3, ·10^-3, x10^-3, ×10⁻³. */
const exponentPattern =
  /(?:[eE](?<letter>[+\-\u2212]?\d+)|\s*[×*·x]\s*10(?:(?:\^|\*\*)\(?(?<caret>[+\-\u2212]?\d+)\)?|(?<raised>[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)))/y;
/** A power of ten without a mantissa: 10^-3, 10⁻³. */
const powerOfTenPattern = /[+\-\u2212]?10(?:\^(?<caret>[+\-\u2212]?\d+)|(?<raised>[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+))/y;

/** Longer than any number that a person writes. */
const longestText = 400;

/**
 * The number at the start of a text, white space skipped. Comma and point are both decimal marks.
 *
 * Recognises what people write instead of a number with a unit, and says what to write: a bare ±, an uncertainty in
 * brackets, marks of thousands, a fraction.
 */
export function readNumberText(text: string): NumberText {
  const start = text.length - text.trimStart().length;
  if (text.length > longestText)
    return {
      ok: false,
      offset: start,
      code: 'number-syntax',
      message: `This text is ${text.length} characters long; a number with its unit has at most ${longestText}.`,
    };
  if (start === text.length)
    return {
      ok: false,
      offset: 0,
      code: 'number-syntax',
      message: 'The number is missing.',
      tryThis: 'Write a number with its unit: 1.20 m.',
    };
  const powerOfTen = matchAt(powerOfTenPattern, text, start);
  const mantissa = powerOfTen ?? matchAt(mantissaPattern, text, start);
  if (mantissa === undefined)
    return {
      ok: false,
      offset: start,
      code: 'number-syntax',
      message: `"${excerpt(text.slice(start))}" does not start with a number.`,
      tryThis: 'Write a number with its unit: 1.20 m.',
    };
  const afterMantissa = start + mantissa[0].length;
  const exponent = powerOfTen ?? matchAt(exponentPattern, text, afterMantissa);
  const end =
    exponent === undefined || powerOfTen !== undefined ? afterMantissa : afterMantissa + exponent[0].length;
  const refusal = refuseRest(text, start, end);
  if (refusal !== undefined) return refusal;
  const digits = text.slice(start, end);
  const negative = /^[-\u2212]/.test(digits);
  const plain =
    powerOfTen !== undefined
      ? `${negative ? '-' : ''}1`
      : mantissa[0]
          .replace(/[ \u00A0\u2009\u202F]/g, '')
          .replace('\u2212', '-')
          .replace(',', '.');
  const power = exponent === undefined ? 0 : readPower(exponent);
  const decimal = power === 0 ? plain : `${plain}e${power}`;
  if (!Number.isFinite(Number(decimal)))
    return {
      ok: false,
      offset: start,
      code: 'number-out-of-range',
      message: `${digits} is larger than a computer number can be (about 1.8e308).`,
    };
  if (Number(decimal) === 0 && /[1-9]/.test(plain))
    return {
      ok: false,
      offset: start,
      code: 'number-out-of-range',
      message: `${digits} is smaller than a computer number can be (about 5e-324).`,
    };
  return { ok: true, start, end, digits, decimal };
}

/** What stands behind the number and shows that the author meant something else. */
function refuseRest(text: string, start: number, end: number): NumberText | undefined {
  const rest = text.slice(end);
  const number = text.slice(start, end);
  const refuse = (code: string, message: string, tryThis: string): NumberText => ({
    ok: false,
    offset: end,
    code,
    message,
    tryThis,
  });
  if (/^[.,]/.test(rest))
    return refuse(
      'number-syntax',
      `"${excerpt(number + rest)}" has two decimal marks.`,
      'Point and comma are both decimal marks; part thousands by a space or not at all.',
    );
  if (/^\s*(?:±|\+\/?-|\+-)/.test(rest))
    return refuse(
      'bare-uncertainty',
      `"${excerpt(text.slice(start))}" states an uncertainty by ±, which does not say of which kind.`,
      'Write the value alone and beside it u, within, reading, expanded or observed.',
    );
  if (/^\(\d+\)/.test(rest))
    return refuse(
      'bare-uncertainty',
      `"${excerpt(text.slice(start))}" states an uncertainty in brackets.`,
      'Write the value alone and beside it u: with the standard uncertainty and its unit.',
    );
  if (/^\s*\/\s*\d/.test(rest))
    return refuse(
      'number-syntax',
      `"${excerpt(text.slice(start))}" is a fraction; a value is one number.`,
      'Write it as a decimal number.',
    );
  if (/^\s*\//.test(rest))
    return refuse(
      'unit-syntax',
      `The unit "${excerpt(rest.trim())}" starts with a slash.`,
      `Write "${number} 1${excerpt(rest.trim())}".`,
    );
  return undefined;
}

function readPower(match: RegExpExecArray): number {
  const groups = match.groups ?? {};
  const written = groups.letter ?? groups.caret;
  if (written !== undefined) return Number(written.replace('\u2212', '-'));
  return readSuperscript(groups.raised ?? '');
}

function matchAt(pattern: RegExp, text: string, offset: number): RegExpExecArray | undefined {
  pattern.lastIndex = offset;
  return pattern.exec(text) ?? undefined;
}

function excerpt(text: string): string {
  const line = text.trim();
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}
