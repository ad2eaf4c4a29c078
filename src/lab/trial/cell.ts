import { type DayGuess, dayOfDate } from './dates.ts';
import type { DecimalMark } from './trial-table.ts';

/** What one cell holds, once decimal and thousands marks are settled. */
export type Cell =
  | { readonly kind: 'number'; readonly value: number; readonly grouped: Grouping | null }
  | {
      readonly kind: 'clock';
      readonly seconds: number;
      readonly twoPart: boolean;
      readonly day: DayGuess | null;
    }
  | { readonly kind: 'blank' }
  | { readonly kind: 'marker' }
  | { readonly kind: 'overload' }
  | { readonly kind: 'text' };

/** Digits in groups of three. Sure where the text cannot be a decimal number: two groups, or both marks. */
export interface Grouping {
  readonly mark: string;
  readonly sure: boolean;
}

/** `thousands`: the mark known to group digits in this file, or null; then only sure groups are accepted. */
export interface Marks {
  readonly decimal: DecimalMark;
  readonly thousands: string | null;
}

const BLANK: Cell = { kind: 'blank' };
const MARKER: Cell = { kind: 'marker' };
const OVERLOAD: Cell = { kind: 'overload' };
const TEXT: Cell = { kind: 'text' };

const missing = /^(?:[-–—_*?.]{1,60}|\/|n\/?a|nan|null|none|nil|#n\/a|#nv|#num!|#div\/0!|#value!)$/i;
const overloaded =
  /^[+\-−±]?(?:o\.?l\.?|o\.?f\.?l\.?|ovld?|over(?:load|range|flow|[ _-]range)?|inf(?:inity)?|∞|#{2,})$/i;

const plain: Readonly<Record<DecimalMark, RegExp>> = {
  '.': /^[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+\-−]?\d{1,4})?$/,
  ',': /^[+\-−]?(?:\d+(?:,\d+)?|,\d+)(?:[eE][+\-−]?\d{1,4})?$/,
};

const groupMarks = ".,' \u00a0\u202f\u2009\u2019";
const groups: Readonly<Record<DecimalMark, RegExp>> = {
  '.': /^[+\-−]?[1-9]\d{0,2}(?:([,' \u00a0\u202f\u2009\u2019])\d{3})(?:\1\d{3})*(?:\.\d*)?$/,
  ',': /^[+\-−]?[1-9]\d{0,2}(?:([.' \u00a0\u202f\u2009\u2019])\d{3})(?:\1\d{3})*(?:,\d+)?$/,
};

const clock =
  /^(?:(?<date>\d{1,4}[-./]\d{1,2}[-./]\d{1,4})[T ,]\s*)?(?<first>\d{1,4}):(?<second>[0-5]?\d)(?::(?<third>[0-5]?\d))?(?<fraction>[.,]\d{1,12})?\s*(?<half>[AaPp]\.?[Mm]\.?)?(?:Z|[+-]\d\d:?\d\d)?$/;

/**
 * Says what a cell holds.
 *
 * A number may have a sign (also U+2212), a decimal mark, an exponent, digits grouped in threes.
 * A clock time is hh:mm:ss with or without a fraction and a date before it, mm:ss.f, or two parts
 * without a fraction, whose meaning `twoPart` leaves open (seconds are then counted as for hh:mm).
 *
 * @param text without blanks around it
 */
export function readCell(text: string, marks: Marks): Cell {
  if (text === '') return BLANK;
  if (plain[marks.decimal].test(text)) {
    return { kind: 'number', value: toNumber(text, marks.decimal), grouped: null };
  }
  const first = text.charCodeAt(0);
  const startsLikeNumber = (first >= 48 && first <= 57) || first === 43 || first === 45 || first === 0x2212;
  if (startsLikeNumber && text.length < 48) {
    const grouped = readGroups(text, marks);
    if (grouped !== null) return grouped;
    if (text.includes(':')) {
      const time = readClock(text);
      if (time !== null) return time;
    }
  }
  if (missing.test(text)) return MARKER;
  if (overloaded.test(text)) return OVERLOAD;
  return TEXT;
}

/** Whether a text that is no number begins like one: '3,41s', '-.5.2', '+1 2'. */
export function beginsLikeNumber(text: string): boolean {
  return /^[+\-−]?[.,]?\d/.test(text);
}

function toNumber(text: string, decimal: DecimalMark): number {
  const ascii = text.replaceAll('\u2212', '-');
  return Number(decimal === ',' ? ascii.replace(',', '.') : ascii);
}

function readGroups(text: string, marks: Marks): Cell | null {
  const match = groups[marks.decimal].exec(text);
  if (match === null) return null;
  const mark = match[1] ?? '';
  // A comma or a point that stands once, with three digits after it, may as well be a decimal mark.
  const sure = !(mark === ',' || mark === '.') || text.split(mark).length > 2 || text.includes(marks.decimal);
  if (!sure && marks.thousands !== mark) return null;
  let digits = '';
  for (const character of text) {
    if (character === marks.decimal) digits += '.';
    else if (character === '\u2212') digits += '-';
    else if (!groupMarks.includes(character)) digits += character;
  }
  return { kind: 'number', value: Number(digits), grouped: { mark, sure } };
}

function readClock(text: string): Cell | null {
  const parts = clock.exec(text)?.groups;
  if (parts === undefined) return null;
  const first = Number(parts.first);
  const second = Number(parts.second);
  const fraction = parts.fraction === undefined ? 0 : Number(`0.${parts.fraction.slice(1)}`);
  const day = parts.date === undefined ? null : dayOfDate(parts.date);
  if (parts.date !== undefined && day === null) return null;
  if (parts.third === undefined && parts.fraction !== undefined) {
    if (parts.half !== undefined || day !== null) return null;
    return { kind: 'clock', seconds: first * 60 + second + fraction, twoPart: false, day: null };
  }
  const hours = parts.half === undefined ? first : hoursOfHalf(first, parts.half);
  if (hours === null) return null;
  const whole = hours * 3600 + second * 60 + Number(parts.third ?? 0);
  const twoPart = parts.third === undefined && parts.half === undefined && day === null;
  // Added as one decimal number, so that 12:00:00.1 has the digits that were written.
  return { kind: 'clock', seconds: Number(`${whole}.${parts.fraction?.slice(1) ?? 0}`), twoPart, day };
}

function hoursOfHalf(hours: number, half: string): number | null {
  if (hours < 1 || hours > 12) return null;
  return (hours % 12) + (half.toLowerCase().startsWith('p') ? 12 : 0);
}
