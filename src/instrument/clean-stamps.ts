import { type Problem, warning } from '../problem/index.ts';

export type RowFate = 'used' | 'missing' | 'repeated' | 'out of order';

/** Which rows of raw readings are used, and what the reader is told of the others. */
export interface CleanedRows {
  /** Null where every row is used. */
  readonly rows: Int32Array | null;
  /** What became of each raw row; null where every row is used. */
  readonly fates: readonly RowFate[] | null;
  readonly notes: readonly Problem[];
}

const EVERY_ROW: CleanedRows = { rows: null, fates: null, notes: [] };

/**
 * Sets aside the rows whose time stamp cannot be used: missing, repeated, or out of order.
 *
 * The rows that stay are the longest series of rising stamps, so one stamp that jumps forward costs one row,
 * as does one that jumps back. Of several rows with one stamp the first stays.
 *
 * @param times s, one a row
 * @param values further columns of the rows; a row that lacks one of them is set aside too
 */
export function cleanStamps(
  times: Float64Array,
  values: readonly Float64Array[],
  instrument: string,
): CleanedRows {
  if (isClean(times, values)) return EVERY_ROW;
  const fates: RowFate[] = [];
  for (let i = 0; i < times.length; i++) {
    const complete = Number.isFinite(times[i]) && values.every((column) => Number.isFinite(column[i]));
    fates.push(complete ? 'out of order' : 'missing');
  }
  for (const i of longestRise(times, fates)) fates[i] = 'used';
  let latest = Number.NaN;
  for (let i = 0; i < times.length; i++) {
    if (fates[i] === 'out of order' && times[i] === latest) fates[i] = 'repeated';
    if (fates[i] === 'used') latest = times[i];
  }
  const rows = Int32Array.from(fates.keys()).filter((i) => fates[i] === 'used');
  return { rows, fates, notes: notesOn(fates, instrument) };
}

function notesOn(fates: readonly RowFate[], instrument: string): Problem[] {
  const place = { step: `readings of ${instrument}` };
  const notes: Problem[] = [];
  const tell = (fate: RowFate, code: string, what: string): void => {
    const count = fates.filter((found) => found === fate).length;
    if (count === 0) return;
    const rows = count === 1 ? '1 row is' : `${count} rows are`;
    notes.push(warning(code, place, `${rows} set aside: ${what}, first in row ${fates.indexOf(fate) + 1}.`));
  };
  tell('missing', 'missing-reading', 'a reading is missing');
  tell('repeated', 'repeated-stamp', 'the time stamp is that of a row before');
  tell('out of order', 'stamp-out-of-order', 'the time stamp does not fit between those around it');
  return notes;
}

/**
 * Rows of the longest strictly rising series of times among those not missing, by the method of piles.
 *
 * Source: M. L. Fredman, Discrete Mathematics 11 (1975) 29, doi:10.1016/0012-365X(75)90103-X.
 */
function longestRise(times: Float64Array, fates: readonly RowFate[]): number[] {
  const tops: number[] = [];
  const below = new Int32Array(times.length).fill(-1);
  for (let i = 0; i < times.length; i++) {
    if (fates[i] === 'missing') continue;
    let low = 0;
    let high = tops.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (times[tops[middle]] < times[i]) low = middle + 1;
      else high = middle;
    }
    if (low > 0) below[i] = tops[low - 1];
    // Of equal stamps the first stays on top.
    if (low === tops.length || times[tops[low]] > times[i]) tops[low] = i;
  }
  const rising: number[] = [];
  for (let i = tops.length > 0 ? tops[tops.length - 1] : -1; i >= 0; i = below[i]) rising.push(i);
  return rising.reverse();
}

function isClean(times: Float64Array, values: readonly Float64Array[]): boolean {
  let latest = -Infinity;
  for (let i = 0; i < times.length; i++) {
    if (!(times[i] > latest) || times[i] === Infinity) return false;
    latest = times[i];
  }
  for (const column of values) {
    for (let i = 0; i < column.length; i++) if (!Number.isFinite(column[i])) return false;
  }
  return true;
}

/** The given rows of a column; the column itself where every row is used. */
export function takeRows(values: Float64Array, rows: Int32Array | null): Float64Array {
  if (rows === null) return values;
  const taken = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) taken[i] = values[rows[i]];
  return taken;
}
