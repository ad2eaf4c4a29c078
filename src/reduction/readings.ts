import { instrumentKinds } from '../instrument/index.ts';
import { fail, succeed } from '../problem/index.ts';
import { putExactMotion } from './exact-motion.ts';
import { renameColumn } from './lazy-column.ts';
import { physicalReadings } from './physical-readings.ts';
import { onRowsIfAny, readingsOnRows } from './readings-on-rows.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep, RowSet } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';

const NAME = 'readings';

/** Instruments whose second column is what they are pointed at, at the time in the first. */
const SHOWS_SIGNAL: ReadonlySet<string> = new Set(['sampled', 'frames']);

const settings: readonly StepSettingSpec[] = [
  {
    kind: 'instrument',
    name: 'of',
    what: 'The instrument whose readings are taken.',
    required: true,
    kinds: [...instrumentKinds.keys()],
  },
  {
    kind: 'new names',
    name: 'gives',
    what: 'Names for the columns, in the order in which the instrument has them.',
    required: true,
    least: 1,
    most: 3,
  },
];

/** The physical columns of an instrument as they are, with the uncertainty that it brings. */
export const readings: ReductionStep = {
  name: NAME,
  what: "An instrument's columns as they are.",
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const source = read.instrument('of', []);
    const names = read.newNames('gives', 1, 3);
    if (read.hasProblem || source === null || names === null) return fail(...read.problems);
    const shapes = source.instrument.kind.physicalColumns(source.instrument.shape);
    if (names.length > shapes.length) {
      const columns = shapes.map((shape) => shape.name).join(', ');
      read.tell(
        'wrong-form',
        'gives',
        `"gives" has ${names.length} names; "${source.name}" has the columns ${columns}.`,
      );
      return fail(...read.problems);
    }
    const rows: RowSet = { words: `"${NAME}" of ${source.name}`, windows: [] };
    return succeed({
      name: NAME,
      words: `${NAME} of ${source.name}`,
      gives: {
        columns: names.map((name, i) => ({ name, dimension: shapes[i].dimension, rows })),
        scalars: [],
      },
      quantitiesRead: source.instrument.quantitiesRead,
      readsUncertainties: false,
      ...onRowsIfAny(readingsOnRows(source, names)),
      ...(names.length > 1 &&
        SHOWS_SIGNAL.has(source.instrument.kind.kind) && {
          exact: {
            canShift: true,
            put: (state, truth) => putExactMotion(state, truth, source.name, names),
          },
        }),
      run(state, quantities) {
        const physical = physicalReadings(state, source.name, source.instrument, quantities);
        if (!physical.ok) return physical;
        names.forEach((name, i) => {
          state.columns.set(name, renameColumn(physical.value[i], name));
        });
        return succeed(undefined);
      },
    });
  },
};
