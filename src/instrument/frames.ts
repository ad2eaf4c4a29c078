import { succeed } from '../problem/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import { cleanStamps, takeRows } from './clean-stamps.ts';
import { meanOverExposure } from './exposure.ts';
import { exposureFits, framesOnLanes, framesOnRows } from './frames-on-rows.ts';
import type { InstrumentKind, Readings } from './instrument-kind.ts';
import { takeColumns } from './raw-column.ts';
import { regularTimes } from './sample-times.ts';
import { numberOf } from './setting-spec.ts';
import { stampErrors } from './stamp-errors.ts';
import { frequency, length, time } from './usual-dimensions.ts';
import { ROUNDING_DEVIATION, roundToResolution } from './whole-ticks.ts';

/**
 * A camera: the place of something in each picture.
 *
 * `t` is when the shutter opens; the place is the mean over the exposure, read to a pixel. A picture whose
 * exposure the end of the motion cuts off is not taken. The inverse gives the place to the middle of the
 * exposure; it brings pixel/√12 and the noise of marking, as a root of squares.
 */
export const frames: InstrumentKind = {
  kind: 'frames',
  what: 'A camera takes pictures at equal intervals; a place is marked in each.',
  settings: [
    {
      kind: 'expression',
      name: 'rate',
      what: 'Pictures in each second.',
      dimension: frequency,
      required: true,
      limits: 'positive',
    },
    {
      kind: 'expression',
      name: 'pixel',
      what: 'Size of a pixel on the object.',
      dimension: length,
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'exposure',
      what: 'How long the shutter is open for each picture.',
      dimension: time,
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'noise',
      what: 'Standard deviation of marking the place in one picture.',
      dimension: length,
      required: false,
      default: 0,
      limits: 'not negative',
    },
  ],
  signals: [{ name: 'of', what: 'The place.', kind: 'value', dimension: length, required: true }],
  mainColumn: 'place',
  rawColumns: () => [
    { name: 't', dimension: time },
    { name: 'place', dimension: length },
  ],
  physicalColumns: () => [
    { name: 't', dimension: time },
    { name: 'place', dimension: length },
  ],
  observe(source, settings, random) {
    if (source.kind !== 'motion') throw new TypeError('frames look at the place in a motion');
    const exposure = numberOf(settings, 'exposure', 0);
    const shown = { ...source, startS: source.startS, endS: source.endS - exposure };
    const interval = 1 / numberOf(settings, 'rate', Number.NaN);
    const times = regularTimes(shown, source.startS, interval, random, 'frames');
    if (!times.ok) return times;
    const places = times.value.map((t) => {
      if (exposure > 0) return meanOverExposure(source, t, t + exposure);
      return t >= source.endS ? source.valueBefore(source.endS) : source.valueAt(t);
    });
    if (random !== null) {
      const noise = numberOf(settings, 'noise', 0);
      if (noise > 0) for (let i = 0; i < places.length; i++) places[i] += noise * random.normal();
      roundToResolution(places, numberOf(settings, 'pixel', 0));
    }
    return succeed(pictures(times.value, places));
  },
  physical(readings, settings) {
    const raw = takeColumns(readings, ['t', 'place']);
    if (!raw.ok) return raw;
    const cleaned = cleanStamps(raw.value[0], [raw.value[1]], readings.instrument);
    const half = numberOf(settings, 'exposure', 0) / 2;
    const opened = takeRows(raw.value[0], cleaned.rows);
    const pixel = numberOf(settings, 'pixel', 0);
    const u = hypotenuse(pixel * ROUNDING_DEVIATION, numberOf(settings, 'noise', 0));
    const places = takeRows(raw.value[1], cleaned.rows);
    return succeed(
      [
        { name: 't', values: half === 0 ? opened : opened.map((t) => t + half), dimension: time, u: 0 },
        {
          name: 'place',
          values: places,
          dimension: length,
          u,
          sharedErrors: stampErrors(places.length, u),
          division: pixel,
        },
      ],
      cleaned.notes,
    );
  },
  onLanes: {
    series: framesOnLanes,
    among: exposureFits,
    physical: framesOnRows,
    readings: (places, settings) => {
      const interval = 1 / numberOf(settings, 'rate', Number.NaN);
      return pictures(
        places.map((_, index) => index * interval),
        places,
      );
    },
  },
};

function pictures(times: Float64Array, places: Float64Array): Readings {
  return {
    instrument: 'frames',
    columns: [
      { name: 't', values: times, dimension: time, u: 0 },
      { name: 'place', values: places, dimension: length, u: 0 },
    ],
    notes: [],
  };
}
