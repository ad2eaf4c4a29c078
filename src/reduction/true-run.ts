import type { TrueColumn, TrueRows, TrueRun } from './exact-step.ts';
import type { ColumnFormula, RowCondition } from './formula.ts';
import type { KnownMotion, TimeFunction } from './known-motion.ts';
import { withValues } from './lazy-column.ts';
import type { RunState } from './state.ts';
import { firstTime, narrowRows, stateAtTimes, trueColumnOf, withinTimes } from './true-rows.ts';

export function beginTrueRun(motion: KnownMotion): TrueRun {
  return { motion, rows: new Map() };
}

/**
 * Puts true columns at the times of their rows, and lets the rows be known from then on.
 *
 * The stretch of the rows goes to an end of the motion that is less than one row away.
 *
 * @param time    column with the times
 * @param columns what is true of the others
 */
export function putTrueColumns(
  state: RunState,
  truth: TrueRun,
  time: string,
  columns: ReadonlyMap<string, TimeFunction>,
): void {
  const times = state.columns.get(time)?.values;
  if (times === undefined || times.length < 2) return;
  const known = new Map<string, TrueColumn>([[time, (at) => at]]);
  for (const [name, value] of columns) known.set(name, trueColumnOf(value));
  const spacing = (times[times.length - 1] - times[0]) / (times.length - 1);
  const { startS, endS } = truth.motion;
  const from = times[0] - startS < spacing ? startS : times[0];
  const last = times[times.length - 1];
  const to = endS - last < spacing ? endS : last;
  setRows(truth, { time, spans: () => [[from, to]], columns: known });
  for (const name of columns.keys()) putColumn(state, name, times, known);
}

/** What an expression of columns is at any time; null where the rows are not known. */
export function trueFormula(
  of: ColumnFormula,
  state: RunState,
  truth: TrueRun,
  quantities: Float64Array,
): { readonly rows: TrueRows; readonly column: TrueColumn } | null {
  const rows = truth.rows.get(of.like);
  if (rows === undefined) return null;
  return { rows, column: (times) => of.values(stateAtTimes(state, rows, times), quantities) };
}

/** Puts a column of rows that are known already in the place of what a step gave. */
export function putTrueColumn(
  state: RunState,
  truth: TrueRun,
  rows: TrueRows,
  name: string,
  column: TrueColumn,
): void {
  const times = state.columns.get(rows.time)?.values;
  if (times === undefined) return;
  const columns = new Map([...rows.columns, [name, column] as const]);
  setRows(truth, { ...rows, columns });
  putColumn(state, name, times, columns);
}

/** Lets only those stretches of the rows stand in which a condition is true. */
export function narrowTrueRows(
  state: RunState,
  truth: TrueRun,
  condition: RowCondition,
  quantities: Float64Array,
): void {
  const rows = truth.rows.get(condition.like);
  if (rows !== undefined) setRows(truth, narrowRows(state, rows, condition, quantities));
}

/** Lets the rows stand from where one condition comes true up to where another does, from there on. */
export function betweenTrueRows(
  state: RunState,
  truth: TrueRun,
  starts: RowCondition | null,
  ends: RowCondition | null,
  quantities: Float64Array,
): void {
  let rows = truth.rows.get(starts?.like ?? ends?.like ?? '');
  if (rows === undefined) return;
  if (starts !== null) {
    const started = narrowRows(state, rows, starts, quantities);
    rows = withinTimes(
      rows,
      () => firstTime(started),
      () => Infinity,
    );
  }
  if (ends !== null) {
    const ended = narrowRows(state, rows, ends, quantities);
    const end = () => firstTime(ended);
    rows = withinTimes(
      rows,
      () => -Infinity,
      () => (Number.isNaN(end()) ? Infinity : end()),
    );
  }
  setRows(truth, rows);
}

/** The rows from the first to the last that the run has. */
export function withinReadings(state: RunState, rows: TrueRows): TrueRows {
  const times = state.columns.get(rows.time)?.values ?? new Float64Array(0);
  return withinTimes(
    rows,
    () => times[0] ?? Number.NaN,
    () => times[times.length - 1] ?? Number.NaN,
  );
}

/** Puts the true value in the place of one that a step gave; nothing is put where it is not known. */
export function putTrueValue(state: RunState, name: string, value: number): void {
  const scalar = state.scalars.get(name);
  if (scalar !== undefined && Number.isFinite(value)) state.scalars.set(name, { ...scalar, value });
}

/** Rows of a name, for all the columns that they have. */
function setRows(truth: TrueRun, rows: TrueRows): void {
  for (const name of rows.columns.keys()) truth.rows.set(name, rows);
}

function putColumn(
  state: RunState,
  name: string,
  times: Float64Array,
  columns: ReadonlyMap<string, TrueColumn>,
): void {
  const column = state.columns.get(name);
  const values = columns.get(name)?.(times);
  if (column === undefined || values === undefined || !values.every(Number.isFinite)) return;
  state.columns.set(name, withValues(column, values));
}
