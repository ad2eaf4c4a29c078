import type { RandomSource } from '../inference/index.ts';
import { fail, type Outcome, type Problem, problem, succeed, warning } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import { cleanStamps, takeRows } from './clean-stamps.ts';
import { lagSignal } from './first-order-lag.ts';
import type { Column, InstrumentKind, Readings } from './instrument-kind.ts';
import { takeColumns } from './raw-column.ts';
import { denseTimes, regularTimes } from './sample-times.ts';
import { samplesOnLanes, samplesOnRows, withoutLag } from './samples-on-rows.ts';
import { numberOf, numbersOf, type SettingValues } from './setting-spec.ts';
import type { MotionSource, PointsSource } from './source.ts';
import { stampErrors } from './stamp-errors.ts';
import { frequency, time } from './usual-dimensions.ts';
import { ROUNDING_DEVIATION, roundToResolution } from './whole-ticks.ts';

/**
 * A sensor with a logger, or a meter: any signal, read at equal intervals (or once for each point of a relation).
 *
 * In the order in which they act: lag (first order), zero (added), noise, range (readings beyond it stand at its
 * end), resolution. The inverse takes the zero off again; lag and range it cannot undo, and says where readings
 * stand at an end of the range. It brings resolution/√12 and the noise, as a root of squares.
 */
export const sampled: InstrumentKind = {
  kind: 'sampled',
  what: 'A sensor or meter reads any signal at equal intervals.',
  settings: [
    {
      kind: 'expression',
      name: 'rate',
      what: 'Readings in each second; instead of interval.',
      dimension: frequency,
      required: false,
      limits: 'positive',
    },
    {
      kind: 'expression',
      name: 'interval',
      what: 'Time between readings; 0 s stands for an instrument that looks all the time.',
      dimension: time,
      required: false,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'resolution',
      what: 'Step between neighbouring possible readings.',
      dimension: 'of signal',
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'noise',
      what: 'Standard deviation of the noise of one reading.',
      dimension: 'of signal',
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'lag',
      what: 'Time constant with which the sensor follows its signal (first order).',
      dimension: time,
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'range',
      name: 'range',
      what: 'Smallest and largest reading that can be shown.',
      dimension: 'of signal',
      required: false,
      as: 'point',
    },
    {
      kind: 'expression',
      name: 'zero',
      what: 'What the instrument shows where the signal is zero.',
      dimension: 'of signal',
      required: false,
      default: 0,
    },
    {
      kind: 'expression',
      name: 'starts',
      what: 'When the first reading is taken, counted from release.',
      dimension: time,
      required: false,
      default: 0,
    },
  ],
  signals: [{ name: 'of', what: 'What is read.', kind: 'value', dimension: 'any', required: true }],
  mainColumn: 'value',
  rawColumns: (signal) => [
    signal.against ?? { name: 't', dimension: time },
    { name: 'value', dimension: signal.dimension },
  ],
  physicalColumns: (signal) => [
    signal.against ?? { name: 't', dimension: time },
    { name: 'value', dimension: signal.dimension },
  ],
  observe(source, settings, random) {
    if (source.kind === 'events') throw new TypeError('a sampled signal is a motion or a relation');
    return source.kind === 'points'
      ? observePoints(source, settings, random)
      : observeMotion(source, settings, random);
  },
  physical(readings, settings) {
    const against = readings.columns.find((column) => column.name !== 'value');
    const raw = takeColumns(readings, [against?.name ?? 't', 'value']);
    if (!raw.ok) return raw;
    const [stamps, shown] = raw.value;
    const inTime = against === undefined || against.name === 't';
    const cleaned = inTime ? cleanStamps(stamps, [shown], readings.instrument) : { rows: null, notes: [] };
    const values = takeRows(shown, cleaned.rows).slice();
    const zero = numberOf(settings, 'zero', 0);
    const notes = [...cleaned.notes, ...atEndOfRange(values, settings, readings.instrument)];
    if (zero !== 0) for (let i = 0; i < values.length; i++) values[i] -= zero;
    const resolution = numberOf(settings, 'resolution', 0);
    const u = hypotenuse(resolution * ROUNDING_DEVIATION, numberOf(settings, 'noise', 0));
    const dimension = readings.columns.find((column) => column.name === 'value')?.dimension ?? [];
    const columns: Column[] = [
      {
        name: against?.name ?? 't',
        values: takeRows(stamps, cleaned.rows),
        dimension: against?.dimension ?? time,
        u: inTime ? 0 : (against?.u ?? 0),
      },
      {
        name: 'value',
        values,
        dimension,
        u,
        sharedErrors: stampErrors(values.length, u),
        division: resolution,
      },
    ];
    return succeed(columns, notes);
  },
  onLanes: {
    series: samplesOnLanes,
    among: withoutLag,
    physical: samplesOnRows,
    readings: (values, settings, signal) => {
      const interval = intervalOf(settings);
      const first = numberOf(settings, 'starts', 0);
      const times = Float64Array.from(values, (_, index) => first + index * interval);
      distort(values, settings, null);
      return samples(times, values, signal.dimension);
    },
  },
};

/** Time between samples, s; 0 for the continuous limit, and where nothing is said. */
function intervalOf(settings: SettingValues): number {
  const rate = numberOf(settings, 'rate', 0);
  return rate > 0 ? 1 / rate : numberOf(settings, 'interval', 0);
}

function samples(times: Float64Array, values: Float64Array, dimension: Dimension): Readings {
  return {
    instrument: 'sampled',
    columns: [
      { name: 't', values: times, dimension: time, u: 0 },
      { name: 'value', values, dimension, u: 0 },
    ],
    notes: [],
  };
}

function observePoints(
  source: PointsSource,
  settings: SettingValues,
  random: RandomSource | null,
): Outcome<Readings> {
  const shown = source.values.slice();
  distort(shown, settings, random);
  return succeed<Readings>({
    instrument: 'sampled',
    columns: [
      { ...source.against, u: 0 },
      { name: 'value', values: shown, dimension: source.dimension, u: 0 },
    ],
    notes: [],
  });
}

function observeMotion(
  source: MotionSource,
  settings: SettingValues,
  random: RandomSource | null,
): Outcome<Readings> {
  if (!settings.has('rate') && !settings.has('interval')) {
    return fail(
      problem(
        'no-rate',
        { step: 'sampled' },
        'neither "rate" nor "interval" says how often the signal is read; one of them must.',
        'Take "interval: 0 s" for an instrument that looks all the time.',
      ),
    );
  }
  const interval = intervalOf(settings);
  const first = source.startS + numberOf(settings, 'starts', 0);
  const times =
    interval > 0
      ? regularTimes(source, first, interval, random, 'sampled')
      : succeed(denseTimes(source, first));
  if (!times.ok) return times;
  const lag = numberOf(settings, 'lag', 0);
  const shown = lag > 0 ? lagSignal(source, lag, times.value) : valuesAt(source, times.value);
  distort(shown, settings, random);
  return succeed(samples(times.value, shown, source.dimension));
}

/** The signal at each time; at the end of the motion, the value just before it. */
function valuesAt(source: MotionSource, times: Float64Array): Float64Array {
  const values = new Float64Array(times.length);
  for (let i = 0; i < times.length; i++) {
    values[i] = times[i] >= source.endS ? source.valueBefore(source.endS) : source.valueAt(times[i]);
  }
  return values;
}

function distort(shown: Float64Array, settings: SettingValues, random: RandomSource | null): void {
  const zero = numberOf(settings, 'zero', 0);
  const noise = random === null ? 0 : numberOf(settings, 'noise', 0);
  const range = numbersOf(settings, 'range');
  if (zero !== 0) for (let i = 0; i < shown.length; i++) shown[i] += zero;
  if (random !== null && noise > 0) {
    for (let i = 0; i < shown.length; i++) shown[i] += noise * random.normal();
  }
  if (range !== undefined) {
    for (let i = 0; i < shown.length; i++) shown[i] = Math.min(Math.max(shown[i], range[0]), range[1]);
  }
  if (random !== null) roundToResolution(shown, numberOf(settings, 'resolution', 0));
}

/** A note where raw readings stand at an end of the range: the true value may lie beyond. */
function atEndOfRange(shown: Float64Array, settings: SettingValues, instrument: string): Problem[] {
  const range = numbersOf(settings, 'range');
  if (range === undefined) return [];
  const nearly = 0.5 * numberOf(settings, 'resolution', 0) + 1e-12 * Math.max(...range.map(sizeOf));
  const count = (test: (value: number) => boolean): number => {
    let found = 0;
    for (let i = 0; i < shown.length; i++) if (test(shown[i])) found += 1;
    return found;
  };
  const notes: Problem[] = [];
  const tell = (found: number, end: string): void => {
    if (found === 0) return;
    const readings = found === 1 ? '1 reading stands' : `${found} readings stand`;
    notes.push(
      warning(
        'end-of-range',
        { step: `readings of ${instrument}` },
        `${readings} at the ${end} end of the range; the true values may lie beyond.`,
      ),
    );
  };
  tell(
    count((value) => value <= range[0] + nearly),
    'lower',
  );
  tell(
    count((value) => value >= range[1] - nearly),
    'upper',
  );
  return notes;
}

function sizeOf(end: number): number {
  return Number.isFinite(end) ? Math.abs(end) : 0;
}
