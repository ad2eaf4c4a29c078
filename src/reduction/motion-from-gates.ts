import type { RowStep } from '../engine/index.ts';
import { divide } from '../expression/index.ts';
import { type Column, hasFlag, numberOf, treeOf } from '../instrument/index.ts';
import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import { anchored, putExactMotion } from './exact-motion.ts';
import { DerivedColumn, errorsOf, innerRows, renameColumn, SharedColumn } from './lazy-column.ts';
import { physicalReadings } from './physical-readings.ts';
import { onRowsIfAny, readingsOnRows } from './readings-on-rows.ts';
import { nameOf } from './rows-of-names.ts';
import { placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep, RowSet } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { threePointRows } from './three-point-rows.ts';
import { speedErrorsFromStamps, threePointSpeeds } from './three-point-speed.ts';
import { METRE, METRE_PER_SECOND, SECOND } from './usual-dimensions.ts';

const NAME = 'motion from gates';

const settings: readonly StepSettingSpec[] = [
  { kind: 'instrument', name: 'of', what: 'The gates that are read.', required: true, kinds: ['gates'] },
  {
    kind: 'new names',
    name: 'gives',
    what: 'Names for the time, the place and the speed.',
    required: true,
    least: 2,
    most: 3,
  },
];

/**
 * Time, place and speed at light gates.
 *
 * With a flag the speed is its width over the time that it blocks the gate, which is the mean speed over the
 * flag and belongs to the middle of that time. Without, it is that of the parabola through three gates, and the
 * first and the last are left out.
 */
export const motionFromGates: ReductionStep = {
  name: NAME,
  what: 'Time, place and speed at light gates; the speed from the flag, or without one by the parabola through three gates.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const gates = read.instrument('of', ['gates']);
    const names = read.newNames('gives', 2, 3);
    if (read.hasProblem || gates === null || names === null) return fail(...read.problems);
    const dimensions = [SECOND, METRE, METRE_PER_SECOND];
    const rows: RowSet = { words: `"${NAME}" of ${gates.name}`, windows: [] };
    const words = `${NAME} of ${gates.name}`;
    return succeed({
      name: NAME,
      words,
      gives: {
        columns: names.map((name, i) => ({ name, dimension: dimensions[i], rows })),
        scalars: [],
      },
      quantitiesRead: gates.instrument.quantitiesRead,
      readsUncertainties: false,
      ...onRowsIfAny(gatesToMotion(gates, names)),
      exact: {
        canShift: true,
        put: (state, truth) =>
          putExactMotion(state, truth, gates.name, names, anchored(state, names[0], names[1], 1)),
      },
      run(state, quantities): Outcome<void> {
        const physical = physicalReadings(state, gates.name, gates.instrument, quantities);
        if (!physical.ok) return physical;
        const [t, places, blocked] = physical.value;
        const flag = numberOf(gates.instrument.settings(quantities), 'flag', 0);
        if (flag === 0 && t.values.length < 3) {
          const place = placeOfStep(words, state);
          const count = t.values.length === 1 ? '1 passage is' : `${t.values.length} passages are`;
          const message = `${count} there; without a flag a speed needs at least 3.`;
          return fail(problem('too-few-readings', place, message));
        }
        const made = flag > 0 ? withFlag(t, places, blocked, flag, names) : withoutFlag(t, places, names);
        for (const column of made.slice(0, names.length)) state.columns.set(column.name, column);
        return succeed(undefined);
      },
    });
  },
};

/** The step where the batch engine has the passages. */
function gatesToMotion(
  gates: Parameters<typeof readingsOnRows>[0],
  names: readonly string[],
): readonly RowStep[] | null {
  const { settingTrees } = gates.instrument;
  if (settingTrees === undefined) return null;
  const [stamps, places, blocked] = ['stamps', 'places', 'blocked'].map(
    (what) => `${what} for ${names.join(', ')}`,
  );
  if (!hasFlag(settingTrees)) {
    const readings = readingsOnRows(gates, [stamps, places]);
    return readings === null ? null : [...readings, ...threePointRows(stamps, places, names)];
  }
  const [time, place, speed] = names;
  const readings = readingsOnRows(gates, [time, place, blocked]);
  if (readings === null || speed === undefined) return readings;
  const of = divide(treeOf(settingTrees, 'flag', 0), nameOf(blocked));
  return [...readings, { kind: 'column', name: speed, like: time, of }];
}

function withFlag(
  t: Column,
  places: Column,
  blocked: Column,
  flag: number,
  names: readonly string[],
): Column[] {
  const speeds = blocked.values.map((duration) => flag / duration);
  const derivative = () => blocked.values.map((duration) => -flag / duration ** 2);
  return [
    renameColumn(t, names[0]),
    renameColumn(places, names[1]),
    ...names
      .slice(2)
      .map((name) => new DerivedColumn(name, speeds, METRE_PER_SECOND, [{ column: blocked, derivative }])),
  ];
}

function withoutFlag(t: Column, places: Column, names: readonly string[]): Column[] {
  const errors = errorsOf(t);
  return [
    innerRows(names[0], t),
    innerRows(names[1], places),
    ...names
      .slice(2)
      .map(
        (name) =>
          new SharedColumn(
            name,
            threePointSpeeds(t.values, places.values),
            METRE_PER_SECOND,
            () => errors && speedErrorsFromStamps(t.values, places.values, errors),
          ),
      ),
  ];
}
