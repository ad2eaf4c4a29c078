import type { RowStep } from '../engine/index.ts';
import { subtract } from '../expression/index.ts';
import { fail, type Outcome, succeed } from '../problem/index.ts';
import { findNotFinite, findTooFew } from './fit-context.ts';
import { columnOf, type RowCondition } from './formula.ts';
import { withValues } from './lazy-column.ts';
import { meanOf } from './mean.ts';
import { rowsWhere } from './rows.ts';
import { nameOf } from './rows-of-names.ts';
import { placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { meanOverTime, narrowRows } from './true-rows.ts';
import { putTrueColumn } from './true-run.ts';

const NAME = 'zero';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column', name: 'column', what: 'The column whose zero is taken off.', required: true },
  { kind: 'condition', name: 'while', what: 'Rows whose mean is the zero.', required: true },
];

/**
 * Takes the mean of some rows, in which the true value is zero, off a whole column.
 *
 * The uncertainty of that mean is common to all rows and not part of the column's u.
 */
export const zero: ReductionStep = {
  name: NAME,
  what: 'Takes the mean of some rows, in which the true value is zero, off a whole column.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const column = read.column('column');
    const during = read.condition('while');
    read.requireSameRows('column', column?.rows, 'while', during?.rows);
    if (read.hasProblem || column === null || during === null) return fail(...read.problems);
    const words = `${NAME} of ${column.name}`;
    const rows = { ...column.rows, windows: [...column.rows.windows, during.text] };
    return succeed({
      name: NAME,
      words,
      gives: { columns: [], scalars: [] },
      quantitiesRead: during.quantitiesRead,
      readsUncertainties: false,
      onRows: zeroOnRows(column.name, during),
      exact: {
        canShift: true,
        put(state, truth, quantities) {
          const known = truth.rows.get(column.name);
          const before = known?.columns.get(column.name);
          if (known === undefined || before === undefined) return;
          const offset = meanOverTime(narrowRows(state, known, during, quantities), before);
          putTrueColumn(state, truth, known, column.name, (times) =>
            before(times).map((value) => value - offset),
          );
        },
      },
      run(state, quantities): Outcome<void> {
        const before = columnOf(state, column.name);
        const quiet = rowsWhere(during.holds(state, quantities));
        const place = placeOfStep(words, state);
        const values = Float64Array.from(quiet, (row) => before.values[row]);
        const found = [
          findTooFew(values.length, 1, 'a zero', rows, place),
          findNotFinite(column.name, values, place),
        ].filter((each) => each !== null);
        if (found.length > 0) return fail(...found);
        const offset = meanOf(values);
        state.columns.set(
          column.name,
          withValues(
            before,
            before.values.map((value) => value - offset),
          ),
        );
        return succeed(undefined);
      },
    });
  },
};

/** The step where the batch engine has the readings: the name goes over to the new column. */
function zeroOnRows(name: string, during: RowCondition): readonly RowStep[] {
  const before = `${name} with its zero`;
  const gives = `zero of ${name}`;
  return [
    { kind: 'shifted', name: before, of: name, by: 0 },
    { kind: 'mean', like: name, of: nameOf(name), where: during.tree, gives },
    { kind: 'column', name, like: name, of: subtract(nameOf(before), nameOf(gives)) },
  ];
}
