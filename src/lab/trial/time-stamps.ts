import { sameDimension } from '../../quantity/index.ts';
import type { TableColumn } from './trial-table.ts';

const second = [0, 0, 1, 0, 0, 0, 0];
const timeName =
  /^(?:t|time|times|time ?stamp|elapsed(?: time)?|zeit|temps|tiempo|tempo|tijd|tid|czas|čas|aika|edge times?)$/i;

/** What is odd about a column of time stamps; rows count from 0, -1 where there is none. */
export interface StampFindings {
  /** Median step, in the column's unit; null where fewer than nine in ten steps are within 5 % of it. */
  readonly interval: number | null;
  readonly repeated: number;
  readonly firstRepeated: number;
  readonly backward: number;
  readonly firstBackward: number;
  /** Steps of more than one and a half intervals. */
  readonly gaps: number;
  readonly firstGap: number;
  readonly longestGap: number;
}

/** The column of time stamps of a run: the first with a unit of time, else the first called time or t. */
export function stampColumn(columns: readonly TableColumn[]): TableColumn | null {
  return (
    columns.find(
      (column) =>
        column.unit !== null && column.unit.angle === 0 && sameDimension(column.unit.dimension, second),
    ) ??
    columns.find((column) => column.unit === null && timeName.test(column.name)) ??
    null
  );
}

/**
 * Looks for gaps, repeated and backward stamps.
 *
 * @param values time stamps in the order of the file; NaN is passed over
 * @returns null where the values wander (a fifth of the steps back, or half of them back or nowhere): no stamps
 */
export function examineStamps(values: Float64Array): StampFindings | null {
  const interval = regularStep(values);
  let repeated = 0;
  let firstRepeated = -1;
  let backward = 0;
  let firstBackward = -1;
  let gaps = 0;
  let firstGap = -1;
  let longestGap = 0;
  let steps = 0;
  let previous = Number.NaN;
  const gap = interval === null ? Number.POSITIVE_INFINITY : 1.5 * interval;
  for (let row = 0; row < values.length; row++) {
    const value = values[row];
    if (Number.isNaN(value)) continue;
    const step = value - previous;
    previous = value;
    if (Number.isNaN(step)) continue;
    steps++;
    if (step === 0) {
      if (repeated++ === 0) firstRepeated = row;
    } else if (step < 0) {
      if (backward++ === 0) firstBackward = row;
    } else if (step > gap) {
      if (gaps++ === 0) firstGap = row;
      longestGap = Math.max(longestGap, step);
    }
  }
  const wanders = backward > 0.2 * steps || (backward > 0 && backward + repeated > 0.5 * steps);
  if (steps < 1 || wanders) return null;
  return { interval, repeated, firstRepeated, backward, firstBackward, gaps, firstGap, longestGap };
}

const mostSteps = 4096;

function regularStep(values: Float64Array): number | null {
  const stride = Math.max(1, Math.floor(values.length / mostSteps));
  const steps: number[] = [];
  for (let row = 1; row < values.length; row += stride) {
    const step = values[row] - values[row - 1];
    if (step > 0) steps.push(step);
  }
  if (steps.length < 4) return null;
  steps.sort((a, b) => a - b);
  const median = steps[steps.length >> 1] ?? 0;
  const near = steps.filter((step) => Math.abs(step - median) <= 0.05 * median).length;
  return near >= 0.9 * steps.length ? median : null;
}
