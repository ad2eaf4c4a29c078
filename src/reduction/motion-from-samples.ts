import type { RowStep } from '../engine/index.ts';
import type { Column } from '../instrument/index.ts';
import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { type Dimension, divideDimensions } from '../quantity/index.ts';
import { putExactMotion } from './exact-motion.ts';
import { FilterWidths } from './filter-width.ts';
import { errorsOf, innerRows, KeptColumn, renameColumn, SharedColumn } from './lazy-column.ts';
import { filterColumn, prepareLocalFilter } from './local-filter.ts';
import { physicalReadings } from './physical-readings.ts';
import { onRowsIfAny, readingsOnRows } from './readings-on-rows.ts';
import { placeOfStep } from './run-place.ts';
import { SettingsReader } from './settings-reader.ts';
import type { ReductionStep, RowSet } from './step.ts';
import type { StepSettingSpec } from './step-setting-spec.ts';
import { threePointRows } from './three-point-rows.ts';
import {
  accelerationErrorsFromPlaces,
  speedErrorsFromPlaces,
  threePointAccelerations,
  threePointSpeeds,
} from './three-point-speed.ts';
import { HERTZ, SECOND } from './usual-dimensions.ts';

/** Position, speed and acceleration from samples of a position or an angle. */
export const motionFromSamples = motionStep(
  'motion from samples',
  'sampled',
  'Time, position, speed and acceleration from samples of a position.',
);

/** The same from the pictures of a camera. */
export const motionFromFrames = motionStep(
  'motion from frames',
  'frames',
  'Time, position, speed and acceleration from the places in pictures.',
);

/**
 * A step that smooths and differentiates samples by a local cubic of stated bandwidth.
 *
 * Position, speed and acceleration each have the bandwidth, at any spacing. Without a bandwidth the position is
 * as read, and speed and acceleration are those of the parabola through three neighbours: they have a bandwidth
 * of 0.22 over the spacing, and the noise that goes with it.
 */
function motionStep(name: string, kind: string, what: string): ReductionStep {
  const settings: readonly StepSettingSpec[] = [
    { kind: 'instrument', name: 'of', what: 'The instrument that is read.', required: true, kinds: [kind] },
    {
      kind: 'new names',
      name: 'gives',
      what: 'Names for the time, the position, the speed and the acceleration; the last may be left out.',
      required: true,
      least: 2,
      most: 4,
    },
    {
      kind: 'expression',
      name: 'bandwidth',
      what: 'Frequency that passes at 1/√2 (−3 dB); without it no more is smoothed than three neighbours do.',
      dimension: HERTZ,
      required: false,
      limits: 'positive',
    },
  ];
  return {
    name,
    what,
    settings,
    prepare(given, context) {
      const read = new SettingsReader(name, settings, given, context);
      const source = read.instrument('of', [kind]);
      const names = read.newNames('gives', 2, 4);
      const bandwidth = read.number('bandwidth', {
        dimension: HERTZ,
        what: 'the bandwidth',
      });
      if (source?.instrument.shape.against !== undefined) {
        read.tell('wrong-instrument', 'of', `"${source.name}" reads a relation, in which nothing moves.`);
      }
      if (read.hasProblem || source === null || names === null) return fail(...read.problems);
      const position = source.instrument.shape.dimension;
      const speed = divideDimensions(position, SECOND);
      const dimensions = [SECOND, position, speed, divideDimensions(speed, SECOND)];
      const rows: RowSet = { words: `"${name}" of ${source.name}`, windows: [] };
      const words = `${name} of ${source.name}`;
      const halfWidths = new FilterWidths();
      return succeed({
        name,
        words,
        gives: {
          columns: names.map((each, i) => ({ name: each, dimension: dimensions[i], rows })),
          scalars: [],
        },
        quantitiesRead: new Set([...source.instrument.quantitiesRead, ...(bandwidth?.quantitiesRead ?? [])]),
        readsUncertainties: false,
        ...(bandwidth === null && names.length < 4 && onRowsIfAny(samplesToMotion(source, names))),
        exact: {
          canShift: true,
          put: (state, truth) => putExactMotion(state, truth, source.name, names),
        },
        run(state, quantities): Outcome<void> {
          const physical = physicalReadings(state, source.name, source.instrument, quantities);
          if (!physical.ok) return physical;
          const [t, x] = physical.value;
          const place = placeOfStep(words, state);
          const made =
            bandwidth === null
              ? byThreePoints(t, x, names, dimensions, place)
              : byLocalPolynomial(t, x, bandwidth.valueAt(quantities), names, dimensions, halfWidths, place);
          if (!made.ok) return made;
          state.notes.push(...made.warnings);
          for (const column of made.value) state.columns.set(column.name, column);
          return succeed(undefined);
        },
      });
    },
  };
}

/** The step by three points where the batch engine has the samples. */
function samplesToMotion(
  source: Parameters<typeof readingsOnRows>[0],
  names: readonly string[],
): readonly RowStep[] | null {
  const [t, x] = ['times', 'values'].map((what) => `${what} for ${names.join(', ')}`);
  const readings = readingsOnRows(source, [t, x]);
  return readings === null ? null : [...readings, ...threePointRows(t, x, names)];
}

function byLocalPolynomial(
  t: Column,
  x: Column,
  bandwidthHz: number,
  names: readonly string[],
  dimensions: readonly Dimension[],
  halfWidths: FilterWidths,
  place: Place,
): Outcome<readonly Column[]> {
  const orders = names.slice(1).map((_, order) => order);
  const filter = prepareLocalFilter(t.values, bandwidthHz, orders, halfWidths, place);
  if (!filter.ok) return filter;
  const times = renameColumn(new KeptColumn(t, filter.value.rows), names[0]);
  const filtered = orders.map((order) =>
    filterColumn(filter.value, x, order, names[order + 1], dimensions[order + 1]),
  );
  return succeed([times, ...filtered], filter.warnings);
}

function byThreePoints(
  t: Column,
  x: Column,
  names: readonly string[],
  dimensions: readonly Dimension[],
  place: Place,
): Outcome<readonly Column[]> {
  if (t.values.length < 3) {
    const count = t.values.length === 1 ? '1 reading is' : `${t.values.length} readings are`;
    return fail(problem('too-few-readings', place, `${count} there; a speed needs at least 3.`));
  }
  const errors = errorsOf(x);
  const made: Column[] = [innerRows(names[0], t), innerRows(names[1], x)];
  if (names.length > 2) {
    made.push(
      new SharedColumn(
        names[2],
        threePointSpeeds(t.values, x.values),
        dimensions[2],
        () => errors && speedErrorsFromPlaces(t.values, errors),
      ),
    );
  }
  if (names.length > 3) {
    made.push(
      new SharedColumn(
        names[3],
        threePointAccelerations(t.values, x.values),
        dimensions[3],
        () => errors && accelerationErrorsFromPlaces(t.values, errors),
      ),
    );
  }
  return succeed(made);
}
