import type { RowStep } from '../engine/index.ts';
import { add, multiply, number, type Tree } from '../expression/index.ts';
import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, type Problem, problem, succeed, warning } from '../problem/index.ts';
import { dimensionless, divideDimensions } from '../quantity/index.ts';
import { anchored, putExactMotion } from './exact-motion.ts';
import { innerRows, SharedColumn } from './lazy-column.ts';
import { physicalReadings } from './physical-readings.ts';
import { onRowsIfAny, readingsOnRows } from './readings-on-rows.ts';
import { nameOf } from './rows-of-names.ts';
import { placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep, RowSet } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { threePointRows } from './three-point-rows.ts';
import { speedErrorsFromStamps, threePointSpeeds } from './three-point-speed.ts';
import { SECOND } from './usual-dimensions.ts';

const NAME = 'motion from edges';

/** Relative uncertainty of a speed from which on its square is noticeably too high. */
const COARSE = 0.02;

const settings: readonly StepSettingSpec[] = [
  {
    kind: 'instrument',
    name: 'of',
    what: 'The gate whose edges are taken.',
    required: true,
    kinds: ['edges'],
  },
  {
    kind: 'expression',
    name: 'radius',
    what: 'Radius at which what moves rolls or runs over the wheel; without it the angle and its rate are given.',
    dimension: 'any',
    required: false,
  },
  {
    kind: 'expression',
    name: 'start',
    what: 'Position at the release; 0 where it is left out.',
    dimension: 'any',
    required: false,
  },
  {
    kind: 'new names',
    name: 'gives',
    what: 'Names for the time, the position and the speed.',
    required: true,
    least: 2,
    most: 3,
  },
];

/**
 * Position and speed from the stamps of a wheel's edges.
 *
 * The position is start + radius·angle; the speed at each edge is that of the parabola through it and its two
 * neighbours, so it belongs to the time of the edge and not to the middle of an interval. The first and the last
 * edge have no neighbour on one side and are left out. Their uncertainty is that of the stamps; neighbouring
 * speeds share stamps, which later fits take into account.
 */
export const motionFromEdges: ReductionStep = {
  name: NAME,
  what: 'Time, position and speed at each edge but the first and the last; the speed by the parabola through three edges.',
  settings,
  prepare(given, context) {
    const read = new SettingsReader(NAME, settings, given, context);
    const gate = read.instrument('of', ['edges']);
    const radius = read.number('radius', null);
    const dimension = radius?.dimension ?? dimensionless;
    const start = read.number('start', { dimension, what: 'the position at the release' });
    const names = read.newNames('gives', 2, 3);
    if (read.hasProblem || gate === null || names === null) return fail(...read.problems);

    const words = `${NAME} of ${gate.name}`;
    const rows: RowSet = { words: `"${NAME}" of ${gate.name}`, windows: [] };
    const speedDimension = divideDimensions(dimension, SECOND);
    const dimensions = [SECOND, dimension, speedDimension];
    return succeed({
      name: NAME,
      words,
      gives: {
        columns: names.map((name, i) => ({ name, dimension: dimensions[i], rows })),
        scalars: [],
      },
      quantitiesRead: new Set([
        ...gate.instrument.quantitiesRead,
        ...(radius?.quantitiesRead ?? []),
        ...(start?.quantitiesRead ?? []),
      ]),
      readsUncertainties: false,
      ...onRowsIfAny(edgesToMotion(gate, radius?.tree ?? number(1), start?.tree ?? number(0), names)),
      exact: {
        canShift: true,
        put(state, truth, quantities) {
          const scale = radius === null ? 1 : radius.valueAt(quantities);
          putExactMotion(state, truth, gate.name, names, anchored(state, names[0], names[1], scale));
        },
      },
      run(state, quantities): Outcome<void> {
        const physical = physicalReadings(state, gate.name, gate.instrument, quantities);
        if (!physical.ok) return physical;
        const [stamps, angles] = physical.value;
        if (stamps.values.length < 3) {
          return fail(tooFew(stamps.values.length, placeOfStep(words, state)));
        }
        const scale = radius === null ? 1 : radius.valueAt(quantities);
        const offset = start === null ? 0 : start.valueAt(quantities);
        const places = angles.values.map((angle) => offset + scale * angle);
        const last = places.length - 1;
        const made: Column[] = [
          innerRows(names[0], stamps),
          { name: names[1], values: places.subarray(1, last), dimension, u: 0 },
        ];
        if (names.length > 2) {
          made.push(
            new SharedColumn(
              names[2],
              threePointSpeeds(stamps.values, places),
              speedDimension,
              () => stamps.sharedErrors && speedErrorsFromStamps(stamps.values, places, stamps.sharedErrors),
            ),
          );
        }
        for (const column of made) state.columns.set(column.name, column);
        if (state.keepsReports && made.length > 2)
          state.notes.push(...noteOnClock(made[2], placeOfStep(words, state)));
        return succeed(undefined);
      },
    });
  },
};

/** The step where the batch engine has the edges. */
function edgesToMotion(
  gate: Parameters<typeof readingsOnRows>[0],
  radius: Tree,
  start: Tree,
  names: readonly string[],
): readonly RowStep[] | null {
  const [t, angle, place] = ['stamps', 'angles', 'places'].map((what) => `${what} for ${names.join(', ')}`);
  const readings = readingsOnRows(gate, [t, angle]);
  if (readings === null) return null;
  const of = add(start, multiply(radius, nameOf(angle)));
  return [...readings, { kind: 'column', name: place, like: t, of }, ...threePointRows(t, place, names)];
}

/** A note where the clock is so coarse that squares of speeds, on the average, come out too high. */
function noteOnClock(speed: Column, place: Place): Problem[] {
  const { u, values } = speed;
  if (typeof u === 'number') return [];
  let largest = 0;
  for (let i = 0; i < u.length; i++) largest = Math.max(largest, u[i] / Math.abs(values[i]));
  if (!(largest > COARSE)) return [];
  // To second order the mean of 1/h² is (1 + 3·u²/h²)/h² for intervals h of uncertainty u.
  const speeds = (100 * largest).toPrecision(2);
  const squares = (300 * largest ** 2).toPrecision(1);
  return [
    warning(
      'coarse-clock',
      place,
      `the clock is coarse for the fastest edges: a speed there is uncertain by ${speeds} %, and squares of speeds come out too high by up to ${squares} %.`,
      'Take a finer clock or fewer edges per turn.',
    ),
  ];
}

function tooFew(count: number, place: Place): Problem {
  const edges =
    count === 0 ? 'there are no edges' : count === 1 ? 'there is 1 edge' : `there are ${count} edges`;
  return problem(
    'too-few-readings',
    place,
    `${edges}; a speed needs at least 3.`,
    'Does the gate see the marks, and does the column of the file hold their times?',
  );
}
