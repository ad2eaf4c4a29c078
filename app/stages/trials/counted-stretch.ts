import type { PlainValue } from '../../../src/edit/index.ts';
import type { AlongAxis } from '../../compute/tasks/trial-readings.ts';

/** Steps into which a marked stretch is divided: its ends are written no finer than a hand can drag. */
const STEPS = 1000;

/**
 * What the lab file says of a stretch that was dragged over.
 *
 * An end at or beyond the first or last reading is left out; null where all of the run is in the stretch.
 *
 * @param from, to in the unit of the axis, `from` the lower
 */
export function writeStretch(
  along: AlongAxis,
  from: number,
  to: number,
): Readonly<Record<string, PlainValue>> | null {
  const ends = along.kind === 'time' ? timeEnds(along.unit, from, to) : numberEnds(from, to);
  const written = {
    ...(from > along.first ? { from: ends.from } : {}),
    ...(to < along.last ? { to: ends.to } : {}),
  };
  return Object.keys(written).length === 0 ? null : written;
}

function timeEnds(unit: string, from: number, to: number) {
  const decimals = Math.max(0, Math.ceil(-Math.log10((to - from) / STEPS)));
  const write = (value: number): string => `${value.toFixed(Math.min(decimals, 12))} ${unit}`;
  return { from: write(from), to: write(to) };
}

/** The readings that lie inside; at least one. */
function numberEnds(from: number, to: number) {
  const first = Math.max(1, Math.ceil(from));
  return { from: first, to: Math.max(first, Math.floor(to)) };
}

/** What is typed into one end: a bare whole number is the number of a reading, everything else is kept as text. */
export function writeEnd(text: string): PlainValue {
  const bare = text.trim();
  return /^\d{1,9}$/.test(bare) ? Number(bare) : bare;
}
