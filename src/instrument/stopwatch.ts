import { fail, type Outcome, problem, succeed } from '../problem/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import { crossingTime } from './crossing-time.ts';
import type { InstrumentKind, Readings } from './instrument-kind.ts';
import { outlineSignal, type SignalOverTime } from './monotone-stretches.ts';
import { takeColumns } from './raw-column.ts';
import { numberOf } from './setting-spec.ts';
import type { EventsSource, Margin, Source } from './source.ts';
import { stampErrors } from './stamp-errors.ts';
import { time } from './usual-dimensions.ts';
import { ROUNDING_DEVIATION, roundToResolution } from './whole-ticks.ts';

/**
 * A person with a stopwatch, who starts it when one condition becomes true and stops it at another.
 *
 * `counts` periods are timed together: the stop is the counts-th time that `to` becomes true after the start,
 * and the inverse divides by it. Instead of conditions, `of` may give the duration of one period itself.
 * `reaction` is the mean by which a timing comes out too long, which the inverse takes off; `spread` is the
 * standard deviation of a whole timing, start and stop together. It brings the spread and division/√12, as a
 * root of squares, divided by counts.
 */
export const stopwatch: InstrumentKind = {
  kind: 'stopwatch',
  what: 'A person times how long something takes.',
  settings: [
    {
      kind: 'count',
      name: 'counts',
      what: 'How many periods are timed together.',
      required: false,
      least: 1,
      default: 1,
    },
    {
      kind: 'expression',
      name: 'reaction',
      what: 'By how much a timing comes out too long on the average.',
      dimension: time,
      required: false,
      default: 0,
    },
    {
      kind: 'expression',
      name: 'spread',
      what: 'Standard deviation of a timing, start and stop together.',
      dimension: time,
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'division',
      what: 'Step of the display.',
      dimension: time,
      required: false,
      default: 0,
      limits: 'not negative',
    },
  ],
  signals: [
    { name: 'of', what: 'The duration itself.', kind: 'value', dimension: time, required: false },
    {
      name: 'from',
      what: 'When the watch is started; the start of the motion if left out.',
      kind: 'condition',
      dimension: 'any',
      required: false,
    },
    {
      name: 'to',
      what: 'When the watch is stopped; the end of the motion if left out.',
      kind: 'condition',
      dimension: 'any',
      required: false,
    },
  ],
  mainColumn: 'time',
  rawColumns: (signal) => [...against(signal.against), { name: 'time', dimension: time }],
  physicalColumns: (signal) => [...against(signal.against), { name: 'time', dimension: time }],
  observe(source, settings, random) {
    const counts = numberOf(settings, 'counts', 1);
    const durations = durationsOf(source, counts);
    if (!durations.ok) return durations;
    const reaction = numberOf(settings, 'reaction', 0);
    const spread = random === null ? 0 : numberOf(settings, 'spread', 0);
    const shown = durations.value.map((duration) => duration + reaction);
    if (random !== null) {
      if (spread > 0) for (let i = 0; i < shown.length; i++) shown[i] += spread * random.normal();
      roundToResolution(shown, numberOf(settings, 'division', 0));
    }
    const column = { name: 'time', values: shown, dimension: time, u: 0 };
    return succeed<Readings>({
      instrument: 'stopwatch',
      columns: source.kind === 'points' ? [{ ...source.against, u: 0 }, column] : [column],
      notes: [],
    });
  },
  physical(readings, settings) {
    const raw = takeColumns(readings, ['time']);
    if (!raw.ok) return raw;
    const counts = numberOf(settings, 'counts', 1);
    const reaction = numberOf(settings, 'reaction', 0);
    const division = numberOf(settings, 'division', 0);
    const u = hypotenuse(division * ROUNDING_DEVIATION, numberOf(settings, 'spread', 0)) / counts;
    const values = raw.value[0].map((shown) => (shown - reaction) / counts);
    return succeed([
      ...readings.columns.filter((column) => column.name !== 'time'),
      {
        name: 'time',
        values,
        dimension: time,
        u,
        sharedErrors: stampErrors(values.length, u),
        division: division / counts,
      },
    ]);
  },
};

function against<T>(column: T | undefined): T[] {
  return column === undefined ? [] : [column];
}

/** What the watch would show without a person's errors: the duration of all counts together. */
function durationsOf(source: Source, counts: number): Outcome<Float64Array> {
  if (source.kind === 'points') return succeed(source.values.map((duration) => counts * duration));
  if (source.kind === 'motion') return succeed(Float64Array.of(counts * source.valueBefore(source.endS)));
  const started =
    source.from === null ? source.startS : timeOfBecoming(source, source.from, source.startS, true, 1);
  if (started === null) return fail(neverComes('start', 'from'));
  const stopped =
    source.to === null ? source.endS : timeOfBecoming(source, source.to, started, false, counts);
  if (stopped === null) return fail(neverComes('stop', 'to', counts));
  return succeed(Float64Array.of(stopped - started));
}

function neverComes(what: 'start' | 'stop', key: 'from' | 'to', counts = 1) {
  const often = counts === 1 ? 'never becomes true' : `does not become true ${counts} times`;
  return problem(
    'event-never-comes',
    { step: 'stopwatch' },
    `the watch does not ${what}: the condition "${key}" ${often} while the motion lasts.`,
  );
}

/**
 * The n-th time after `afterS` at which a condition becomes true, or null.
 *
 * @param orIsTrue whether a condition that is true at `afterS` already counts as becoming true then
 */
function timeOfBecoming(
  source: EventsSource,
  margin: Margin,
  afterS: number,
  orIsTrue: boolean,
  n: number,
): number | null {
  const signal: SignalOverTime = {
    startS: source.startS,
    endS: source.endS,
    breaks: source.breaks,
    valueAt: (t) => margin.valueAt(t),
    valueBefore: (t) => margin.valueBefore(t),
  };
  let left = n;
  if (orIsTrue && margin.valueAt(afterS) >= 0 && --left === 0) return afterS;
  const outline = outlineSignal(signal);
  const { t, y } = outline;
  for (let i = 0; i + 1 < t.length; i++) {
    if (!(y[i] < 0 && y[i + 1] >= 0)) continue;
    const at = crossingTime(signal, outline, i, 0);
    if (at > afterS && --left === 0) return at;
  }
  return null;
}
