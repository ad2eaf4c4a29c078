import { fail, type Outcome, succeed } from '../problem/index.ts';
import { divideDimensions, raiseDimension } from '../quantity/index.ts';
import { trueRate } from './exact-rate.ts';
import { FilterWidths } from './filter-width.ts';
import { columnOf } from './formula.ts';
import { KeptColumn } from './lazy-column.ts';
import { filterColumn, prepareLocalFilter } from './local-filter.ts';
import { inWords, placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { putTrueColumn, trueFormula, withinReadings } from './true-run.ts';

const settings: readonly StepSettingSpec[] = [
  { kind: 'column expression', name: 'of', what: 'What is smoothed.', required: true },
  {
    kind: 'column expression',
    name: 'against',
    what: 'The time, or another abscissa that rises.',
    required: true,
  },
  {
    kind: 'expression',
    name: 'bandwidth',
    what: 'Frequency that passes at 1/√2 (−3 dB): faster changes are smoothed away. In Hz where the abscissa is a time.',
    dimension: 'any',
    required: true,
    limits: 'positive',
  },
  { kind: 'new names', name: 'gives', what: 'Name of the new column.', required: true, least: 1, most: 1 },
];

/** Smoothing by a local polynomial of stated bandwidth. */
export const smooth = filterStep(
  'smooth',
  0,
  'Smooths by a cubic laid through the readings around each; the bandwidth is kept for any spacing. Rows at the ends, whose window is not full, are left out.',
);

/** The rate of change by a local polynomial of stated bandwidth. */
export const derivative = filterStep(
  'derivative',
  1,
  'The rate of change, by a cubic laid through the readings around each; the bandwidth is kept for any spacing. Rows at the ends, whose window is not full, are left out.',
);

function filterStep(name: string, order: number, what: string): ReductionStep {
  return {
    name,
    what,
    settings,
    prepare(given, context) {
      const read = new SettingsReader(name, settings, given, context);
      const of = read.columnFormula('of');
      const against = read.columnFormula('against');
      const bandwidth = read.number(
        'bandwidth',
        against === null ? null : { dimension: raiseDimension(against.dimension, -1), what: 'the bandwidth' },
      );
      const gives = read.newName('gives');
      read.requireSameRows('of', of?.rows, 'against', against?.rows);
      if (read.hasProblem || of === null || against === null || bandwidth === null || gives === null) {
        return fail(...read.problems);
      }
      const before = of.rows;
      const after = { ...before };
      const names = [...context.columns].filter(([, column]) => column.rows === before).map(([each]) => each);
      const words = `${name} of ${inWords(of.text)} against ${inWords(against.text)}`;
      const halfWidths = new FilterWidths();
      const dimension = order === 0 ? of.dimension : divideDimensions(of.dimension, against.dimension);
      return succeed({
        name,
        words,
        gives: {
          columns: [{ name: gives, dimension, rows: after }],
          scalars: [],
          replacesRows: { before, after },
        },
        quantitiesRead: new Set([
          ...of.quantitiesRead,
          ...against.quantitiesRead,
          ...bandwidth.quantitiesRead,
        ]),
        readsUncertainties: false,
        exact: {
          canShift: true,
          put(state, truth, quantities) {
            const known = trueFormula(of, state, truth, quantities);
            const along = trueFormula(against, state, truth, quantities);
            if (known === null || along === null) return;
            const column = order === 0 ? known.column : trueRate(known.column, along.column, truth);
            putTrueColumn(state, truth, withinReadings(state, known.rows), gives, column);
          },
        },
        run(state, quantities): Outcome<void> {
          const column = of.column(state, quantities);
          const abscissa = against.values(state, quantities);
          const filter = prepareLocalFilter(
            abscissa,
            bandwidth.valueAt(quantities),
            [order],
            halfWidths,
            placeOfStep(words, state),
          );
          if (!filter.ok) return filter;
          state.notes.push(...filter.warnings);
          const filtered = filterColumn(filter.value, column, order, gives, dimension);
          for (const each of names) {
            state.columns.set(each, new KeptColumn(columnOf(state, each), filter.value.rows));
          }
          state.columns.set(gives, filtered);
          return succeed(undefined);
        },
      });
    },
  };
}
