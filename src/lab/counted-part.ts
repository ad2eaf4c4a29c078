import type { Column, Readings } from '../instrument/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { type Dimension, parseMagnitude, sameDimension } from '../quantity/index.ts';
import type { LabDocument, Path } from './document.ts';
import type { TrialForm } from './form.ts';
import { timeDimension } from './time-dimension.ts';

/** One end of the part of a run that counts; it counts itself. */
export interface CountedEnd {
  readonly kind: 'time' | 'number';
  /** A time in s, as the file has it, or the number of a reading, from 1. */
  readonly value: number;
}

/** The part of a run that counts, in the words of the lab file and as ends. */
export interface CountedPart {
  readonly from: CountedEnd | null;
  readonly to: CountedEnd | null;
  readonly place: Place;
}

/** Readings of one instrument that lie outside the part that counts. */
export interface OutsideReadings {
  readonly instrument: string;
  readonly before: number;
  readonly behind: number;
  /** Readings in all. */
  readonly of: number;
}

/** Reads `counts: { from, to }` of a trial; null where it is left out. */
export function readCountedPart(
  form: TrialForm['counts'],
  path: Path,
  document: LabDocument,
): Outcome<CountedPart | null> {
  if (form === undefined) return succeed(null);
  const place = document.placeOf(path);
  if (form.from === undefined && form.to === undefined) {
    return fail(
      problem(
        'wrong-form',
        place,
        '"counts" says neither "from" nor "to".',
        'For example: { from: 0.3 s, to: 1.9 s }',
      ),
    );
  }
  const from = readEnd(form.from, [...path, 'from'], document);
  const to = readEnd(form.to, [...path, 'to'], document);
  if (!from.ok || !to.ok) return fail(...(from.ok ? [] : from.problems), ...(to.ok ? [] : to.problems));
  const isTurned =
    from.value !== null && to.value?.kind === from.value.kind && to.value.value < from.value.value;
  if (isTurned) {
    return fail(
      problem(
        'wrong-order',
        place,
        `"counts" ends at ${form.to} before it begins at ${form.from}.`,
        'Exchange them.',
      ),
    );
  }
  return succeed({ from: from.value, to: to.value, place });
}

function readEnd(
  written: string | number | undefined,
  path: Path,
  document: LabDocument,
): Outcome<CountedEnd | null> {
  if (written === undefined) return succeed(null);
  const read = parseMagnitude(String(written), 'interval', document.originOf(path));
  if (!read.ok) return read;
  const { value, unit } = read.value;
  if (sameDimension(unit.dimension, timeDimension)) return succeed({ kind: 'time', value });
  const isNumber = unit.dimension.every((exponent) => exponent === 0) && unit.text === '';
  if (isNumber && Number.isInteger(value) && value >= 1) return succeed({ kind: 'number', value });
  return fail(
    problem(
      'wrong-form',
      document.placeOf(path),
      `"${written}" is neither a time nor the number of a reading, 1 or more.`,
      'For example: 0.31 s, or 31',
    ),
  );
}

/**
 * Readings without those outside the part that counts. The file is not touched: this is done each time it is read.
 *
 * Where readings are counted (edges of a wheel), counting begins at the first reading that counts.
 *
 * @returns fails where an end is a time and the readings have none, or where nothing is left
 */
export function countReadings(
  {
    name,
    file,
    counts,
  }: { readonly name: string; readonly file: string; readonly counts: CountedPart | null },
  readings: readonly Readings[],
): Outcome<{ readonly readings: readonly Readings[]; readonly outside: readonly OutsideReadings[] }> {
  if (counts === null) return succeed({ readings, outside: [] });
  const problems: Problem[] = [];
  const counted: Readings[] = [];
  const outside: OutsideReadings[] = [];
  for (const own of readings) {
    const rows = rowsThatCount(own, counts);
    const of = own.columns[0]?.values.length ?? 0;
    if (rows === null) {
      const message = `The readings of "${own.instrument}" have no times, so the part of ${name} that counts cannot be told by times.`;
      problems.push(
        problem('wrong-form', counts.place, message, 'Give the numbers of the first and last reading.'),
      );
    } else if (rows.end <= rows.start) {
      const message = `No reading of "${own.instrument}" lies in the part of ${name} that counts; ${file} has ${of} of them.`;
      problems.push(problem('nothing-counts', counts.place, message));
    } else {
      const columns = own.columns.map((column) => ({
        ...column,
        values: column.values.slice(rows.start, rows.end),
      }));
      counted.push({ ...own, columns });
      outside.push({ instrument: own.instrument, before: rows.start, behind: of - rows.end, of });
    }
  }
  return problems.length > 0 ? fail(...problems) : succeed({ readings: counted, outside });
}

/** First row that counts and the one behind the last; null where an end is a time and there are none. */
function rowsThatCount(
  { columns }: Readings,
  { from, to }: CountedPart,
): { readonly start: number; readonly end: number } | null {
  const count = columns[0]?.values.length ?? 0;
  const needsTimes = from?.kind === 'time' || to?.kind === 'time';
  const times = columns.find(({ dimension }) => isTime(dimension))?.values;
  if (needsTimes && times === undefined) return null;
  let start = from?.kind === 'number' ? from.value - 1 : 0;
  if (from?.kind === 'time') start = firstRow(times, count, (time) => time >= from.value);
  let end = to?.kind === 'number' ? Math.min(to.value, count) : count;
  if (to?.kind === 'time') end = firstRow(times, count, (time) => time > to.value);
  return { start: Math.min(start, count), end };
}

function firstRow(
  times: Column['values'] | undefined,
  count: number,
  holds: (time: number) => boolean,
): number {
  for (let row = 0; row < count; row++) if (holds(times?.[row] ?? Number.NaN)) return row;
  return count;
}

function isTime(dimension: Dimension): boolean {
  return sameDimension(dimension, timeDimension);
}
