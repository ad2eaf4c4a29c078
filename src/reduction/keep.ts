import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import { columnOf, type RowCondition } from './formula.ts';
import { KeptColumn } from './lazy-column.ts';
import { rowsWhere } from './rows.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep, RowSet } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { betweenTrueRows, narrowTrueRows } from './true-run.ts';

const NAME = 'keep';

const settings: readonly StepSettingSpec[] = [
  {
    kind: 'condition',
    name: 'while',
    what: 'Rows where this is true are kept; instead of from and to.',
    required: false,
  },
  {
    kind: 'condition',
    name: 'from',
    what: 'The first row where this is true is the first that is kept; the very first where it is left out.',
    required: false,
  },
  {
    kind: 'condition',
    name: 'to',
    what: 'The first row after "from" where this is true, and all that follow, are not kept; all are where it is left out.',
    required: false,
  },
];

/** Keeps some of the rows; every column of the same rows is shortened alike. */
export const keep: ReductionStep = {
  name: NAME,
  what: 'Keeps the rows in which a condition is true, or those from one event to another.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const during = read.condition('while');
    const from = read.condition('from');
    const to = read.condition('to');
    const conditions = [during, from, to].filter((condition) => condition !== null);
    if (read.has('while') === (read.has('from') || read.has('to'))) {
      read.tell('wrong-form', 'while', '"keep" needs either "while" or "from" and "to".');
    }
    read.requireSameRows('from', from?.rows, 'to', to?.rows);
    if (read.hasProblem || conditions.length === 0) return fail(...read.problems);

    const before = conditions[0].rows;
    const window = given.words ?? windowText(during, from, to);
    const after: RowSet = { words: before.words, windows: [...before.windows, window] };
    const names = [...context.columns].filter(([, column]) => column.rows === before).map(([name]) => name);
    const words = `${NAME} ${inWords(window)}`;
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: [], replacesRows: { before, after } },
      quantitiesRead: new Set(conditions.flatMap((condition) => [...condition.quantitiesRead])),
      readsUncertainties: false,
      onRows: [
        during === null
          ? {
              kind: 'keep between',
              like: conditions[0].like,
              from: from?.tree ?? null,
              to: to?.tree ?? null,
            }
          : { kind: 'keep', like: during.like, where: during.tree },
      ],
      exact: {
        canShift: false,
        put(state, truth, quantities) {
          if (during === null) betweenTrueRows(state, truth, from, to, quantities);
          else narrowTrueRows(state, truth, during, quantities);
        },
      },
      run(state, quantities): Outcome<void> {
        const count = columnOf(state, names[0]).values.length;
        const rows =
          during === null
            ? rowsBetween(from?.holds(state, quantities), to?.holds(state, quantities), count)
            : rowsWhere(during.holds(state, quantities));
        if (rows.length === 0) {
          const message = `no reading of ${before.words} is in the window ${window}; there were ${count}.`;
          return fail(problem('no-reading-kept', placeOfStep(words, state), message));
        }
        if (rows.length === count) return succeed(undefined);
        for (const name of names) state.columns.set(name, new KeptColumn(columnOf(state, name), rows));
        return succeed(undefined);
      },
    });
  },
};

function windowText(during: RowCondition | null, from: RowCondition | null, to: RowCondition | null): string {
  if (during !== null) return during.text;
  return [from && `from ${from.text}`, to && `to ${to.text}`].filter((part) => part !== null).join(' ');
}

/** Rows from the first where `starts` is true up to, not with, the first from there on where `ends` is. */
function rowsBetween(
  starts: Float64Array | undefined,
  ends: Float64Array | undefined,
  count: number,
): Int32Array {
  const first = starts === undefined ? 0 : starts.indexOf(1);
  if (first < 0) return new Int32Array(0);
  const end = ends === undefined ? -1 : ends.indexOf(1, first);
  return Int32Array.from({ length: (end < 0 ? count : end) - first }, (_, i) => first + i);
}
