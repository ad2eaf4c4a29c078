import type { Column } from '../instrument/index.ts';
import type { Span, TrueColumn, TrueRows } from './exact-step.ts';
import type { RowCondition } from './formula.ts';
import type { TimeFunction } from './known-motion.ts';
import type { RunState } from './state.ts';

/** Least number of rows that stand for rows without end. */
const LEAST_DENSE = 513;
/** Rows that stand for one of the readings, up to as many as a reading without gaps has. */
const DENSER = 4;
const MOST_DENSE = 4097;
const BISECTIONS = 40;
/** Cells of Simpson's rule in each stretch of a mean. */
const CELLS = 128;
const PEAK_ROUNDS = 5;
const PEAK_NODES = 33;

export function trueColumnOf(value: TimeFunction): TrueColumn {
  return (times) => times.map(value);
}

/**
 * A run whose rows are at other times than those of the readings, with the true columns.
 *
 * Values of the run are kept; a column whose truth is not known is not a number in any row.
 */
export function stateAtTimes(state: RunState, rows: TrueRows, times: Float64Array): RunState {
  const columns = new Map<string, Column>();
  for (const [name, { dimension }] of state.columns) {
    const known = rows.columns.get(name);
    let values: Float64Array | null = null;
    columns.set(name, {
      name,
      dimension,
      u: 0,
      get values() {
        values ??= known === undefined ? new Float64Array(times.length).fill(Number.NaN) : known(times);
        return values;
      },
    });
  }
  return {
    ...state,
    columns,
    scalars: new Map(state.scalars),
    fits: [],
    notes: [],
    keepsReports: false,
    findsUncertainties: false,
  };
}

/** Times as close as to stand for readings without gaps, in all stretches, their ends among them. */
export function denseTimes(state: RunState, { spans, time }: TrueRows): Float64Array {
  const readings = state.columns.get(time)?.values.length ?? 0;
  const count = Math.min(MOST_DENSE, Math.max(LEAST_DENSE, DENSER * readings));
  const stretches = spans();
  const total = stretches.reduce((sum, [from, to]) => sum + to - from, 0);
  return Float64Array.from(
    stretches.flatMap(([from, to]) =>
      evenTimes(from, to, Math.max(3, Math.ceil((count * (to - from)) / total))),
    ),
  );
}

/** The rows with the stretches in which a condition is true, each of their ends found by halving. */
export function narrowRows(
  state: RunState,
  rows: TrueRows,
  condition: RowCondition,
  quantities: Float64Array,
): TrueRows {
  const holdsAt = (times: Float64Array) => condition.holds(stateAtTimes(state, rows, times), quantities);
  const find = () =>
    spansWhere(rows.spans(), holdsAt, (span) => denseTimes(state, { ...rows, spans: () => [span] }));
  return { ...rows, spans: keepFirst(find) };
}

function spansWhere(
  before: readonly Span[],
  holdsAt: (times: Float64Array) => Float64Array,
  timesIn: (span: Span) => Float64Array,
): readonly Span[] {
  const spans: Span[] = [];
  for (const span of before) {
    const times = timesIn(span);
    const holds = holdsAt(times);
    let from = holds[0] === 1 ? times[0] : null;
    for (let i = 1; i < times.length; i++) {
      if (holds[i] === holds[i - 1]) continue;
      const edge = findEdge(times[i - 1], times[i], (t) => holdsAt(Float64Array.of(t))[0] === holds[i]);
      if (from === null) from = edge;
      else {
        spans.push([from, edge]);
        from = null;
      }
    }
    if (from !== null) spans.push([from, span[1]]);
  }
  return spans;
}

/** Worked out once, when first asked for. */
function keepFirst(find: () => readonly Span[]): () => readonly Span[] {
  let found: readonly Span[] | null = null;
  return () => {
    found ??= find();
    return found;
  };
}

/** The rows at times from one up to another (s). */
export function withinTimes(rows: TrueRows, first: () => number, last: () => number): TrueRows {
  const find = () => {
    const [lowest, highest] = [first(), last()];
    return rows
      .spans()
      .map(([from, to]): Span => [Math.max(from, lowest), Math.min(to, highest)])
      .filter(([from, to]) => from < to);
  };
  return { ...rows, spans: keepFirst(find) };
}

/** Where the first stretch begins (s); not a number where there is none. */
export function firstTime({ spans }: TrueRows): number {
  return spans()[0]?.[0] ?? Number.NaN;
}

/** Where a condition changes over between two times, of which the later has it. */
function findEdge(before: number, after: number, has: (t: number) => boolean): number {
  let [low, high] = [before, after];
  for (let round = 0; round < BISECTIONS; round++) {
    const middle = 0.5 * (low + high);
    if (has(middle)) high = middle;
    else low = middle;
  }
  return 0.5 * (low + high);
}

/** Mean over time in all stretches, by Simpson's rule; not a number where there is none. */
export function meanOverTime({ spans }: TrueRows, of: TrueColumn): number {
  let integral = 0;
  let total = 0;
  for (const [from, to] of spans()) {
    const values = of(Float64Array.from(evenTimes(from, to, CELLS + 1)));
    let sum = values[0] + values[CELLS];
    for (let i = 1; i < CELLS; i++) sum += (i % 2 === 1 ? 4 : 2) * values[i];
    integral += (sum * (to - from)) / (3 * CELLS);
    total += to - from;
  }
  return integral / total;
}

/** Largest value at any time, by closer and closer rows around the largest; not a number where there is none. */
export function largestOverTime(state: RunState, rows: TrueRows, of: TrueColumn): number {
  let times = denseTimes(state, rows);
  let largest = Number.NaN;
  for (let round = 0; round <= PEAK_ROUNDS; round++) {
    const values = of(times);
    let top = 0;
    for (let i = 1; i < values.length; i++) if (values[i] > values[top]) top = i;
    if (values.length === 0 || Number.isNaN(values[top])) return Number.NaN;
    largest = values[top];
    const [from, to] = [times[Math.max(0, top - 1)], times[Math.min(times.length - 1, top + 1)]];
    times = Float64Array.from(evenTimes(from, to, PEAK_NODES));
  }
  return largest;
}

function evenTimes(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
