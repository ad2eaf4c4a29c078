import { fail, succeed } from '../problem/index.ts';
import { renameColumn } from './lazy-column.ts';
import { inWords } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { putTrueColumn, trueFormula } from './true-run.ts';

const NAME = 'column';

const settings: readonly StepSettingSpec[] = [
  {
    kind: 'column expression',
    name: 'of',
    what: 'Expression of columns, values and quantities.',
    required: true,
  },
  { kind: 'new names', name: 'gives', what: 'Name of the new column.', required: true, least: 1, most: 1 },
];

/** A new column, worked out row by row; its uncertainty by partial derivatives. */
export const column: ReductionStep = {
  name: NAME,
  what: 'A new column, worked out row by row.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const of = read.columnFormula('of');
    const name = read.newName('gives');
    if (read.hasProblem || of === null || name === null) return fail(...read.problems);
    return succeed({
      name: NAME,
      words: `${NAME} ${name} of ${inWords(of.text)}`,
      gives: { columns: [{ name, dimension: of.dimension, rows: of.rows }], scalars: [] },
      quantitiesRead: of.quantitiesRead,
      readsUncertainties: false,
      onRows: [{ kind: 'column', name, like: of.like, of: of.tree }],
      exact: {
        canShift: false,
        put(state, truth, quantities) {
          const known = trueFormula(of, state, truth, quantities);
          if (known !== null) putTrueColumn(state, truth, known.rows, name, known.column);
        },
      },
      run(state, quantities) {
        state.columns.set(name, renameColumn(of.column(state, quantities), name));
        return succeed(undefined);
      },
    });
  },
};
