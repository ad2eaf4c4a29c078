/** Day numbers that a written date can mean: one, or two where day and month may stand either way round. */
export interface DayGuess {
  readonly day: number;
  /** With month first, where '5/1/2024' leaves it open; else null. */
  readonly other: number | null;
}

/**
 * The day, counted from 1 January 1970 of the proleptic Gregorian calendar, that a date means.
 *
 * Year first is year-month-day; points mean day.month.year; slashes and hyphens with the year last mean
 * either, unless a number above 12 settles it.
 *
 * @returns null where the numbers are no date
 */
export function dayOfDate(text: string): DayGuess | null {
  const parts = text.split(/[-./]/).map(Number);
  const [a = 0, b = 0, c = 0] = parts;
  if (parts.length !== 3) return null;
  if (a > 31) return single(dayNumber(a, b, c));
  const year = c < 100 ? 2000 + c : c;
  const dayFirst = dayNumber(year, b, a);
  if (text.includes('.')) return single(dayFirst);
  const monthFirst = dayNumber(year, a, b);
  if (dayFirst === null) return single(monthFirst);
  return { day: dayFirst, other: monthFirst === dayFirst ? null : monthFirst };
}

/** Days from the first day of a series to another; where the dates leave it open, the fewest days. */
export function daysSince(first: DayGuess, now: DayGuess): { days: number; doubtful: boolean } {
  const dayFirst = now.day - first.day;
  if (first.other === null && now.other === null) return { days: dayFirst, doubtful: false };
  const choices =
    first.other !== null && now.other !== null
      ? [dayFirst, now.other - first.other]
      : [dayFirst, (now.other ?? now.day) - (first.other ?? first.day)];
  const days = choices.reduce((least, choice) => (Math.abs(choice) < Math.abs(least) ? choice : least));
  return { days, doubtful: choices.some((choice) => choice !== days) };
}

function single(day: number | null): DayGuess | null {
  return day === null ? null : { day, other: null };
}

const daysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];
const daysIn = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function dayNumber(year: number, month: number, day: number): number | null {
  const before = daysBefore[month - 1];
  const length = daysIn[month - 1];
  if (before === undefined || length === undefined) return null;
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  if (day < 1 || day > length + (month === 2 && leap ? 1 : 0)) return null;
  const past = year - 1;
  const leapDays = Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
  return past * 365 + leapDays + before + (month > 2 && leap ? 1 : 0) + day - 1 - 719_162;
}
