import { succeed } from '../problem/index.ts';
import { cleanStamps, takeRows } from './clean-stamps.ts';
import { crossingTime } from './crossing-time.ts';
import { flagIsWide, gatesOnLanes, gatesOnRows } from './gates-on-rows.ts';
import type { InstrumentKind, Readings } from './instrument-kind.ts';
import { outlineSignal, type SignalOutline } from './monotone-stretches.ts';
import { takeColumns } from './raw-column.ts';
import { numberOf, numbersOf } from './setting-spec.ts';
import type { SharedErrors } from './shared-errors.ts';
import type { MotionSource } from './source.ts';
import { length, time } from './usual-dimensions.ts';
import { ROUNDING_DEVIATION, stampInWholeTicks } from './whole-ticks.ts';

interface Passage {
  readonly place: number;
  readonly blockedFrom: number;
  readonly blockedUntil: number;
}

/**
 * Light gates at given places, with a flag on what moves.
 *
 * `place` is where a gate stands, `time` when the flag begins to block it, `blocked` for how long. The signal is
 * the position of the flag's middle, so a gate is blocked while that is within half a flag width. Passages in
 * either direction are seen; one that the start or the end of the motion cuts off is not.
 * The inverse gives the middle of the blocked time as the time at the place. Each stamp brings clock/√12.
 */
export const gates: InstrumentKind = {
  kind: 'gates',
  what: 'Light gates at given places stamp when a flag begins to block them and for how long.',
  settings: [
    { kind: 'list', name: 'at', what: 'Where the gates stand.', dimension: length, required: true, least: 1 },
    {
      kind: 'expression',
      name: 'flag',
      what: 'Width of the flag along the motion; with 0 m only the times at the places are known.',
      dimension: length,
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'clock',
      what: 'Step of the time stamps.',
      dimension: time,
      required: false,
      default: 0,
      limits: 'not negative',
    },
  ],
  signals: [
    { name: 'of', what: "Position of the flag's middle.", kind: 'value', dimension: length, required: true },
  ],
  mainColumn: 'time',
  rawColumns: () => [
    { name: 'place', dimension: length },
    { name: 'time', dimension: time },
    { name: 'blocked', dimension: time },
  ],
  physicalColumns: () => [
    { name: 't', dimension: time },
    { name: 'place', dimension: length },
    { name: 'blocked', dimension: time },
  ],
  observe(source, settings, random) {
    if (source.kind !== 'motion') throw new TypeError('gates look at the position in a motion');
    const passages = passagesThrough(
      source,
      numbersOf(settings, 'at') ?? new Float64Array(0),
      numberOf(settings, 'flag', 0),
    );
    const stamps = new Float64Array(2 * passages.length);
    passages.forEach((passage, i) => {
      stamps[2 * i] = passage.blockedFrom;
      stamps[2 * i + 1] = passage.blockedUntil;
    });
    stampInWholeTicks(stamps, numberOf(settings, 'clock', 0), random);
    const starts = stamps.filter((_, i) => i % 2 === 0);
    const blocked = starts.map((start, i) => stamps[2 * i + 1] - start);
    const places = Float64Array.from(passages, (passage) => passage.place);
    return succeed(stamped(places, starts, blocked));
  },
  physical(readings, settings) {
    const completed = withPlaces(readings, numbersOf(settings, 'at'));
    const hasBlocked = readings.columns.some((column) => column.name === 'blocked');
    const raw = takeColumns(completed, hasBlocked ? ['time', 'place', 'blocked'] : ['time', 'place']);
    if (!raw.ok) return raw;
    const cleaned = cleanStamps(raw.value[0], raw.value.slice(1), readings.instrument);
    const starts = takeRows(raw.value[0], cleaned.rows);
    const places = takeRows(raw.value[1], cleaned.rows);
    const blocked = hasBlocked ? takeRows(raw.value[2], cleaned.rows) : new Float64Array(starts.length);
    const u = numberOf(settings, 'clock', 0) * ROUNDING_DEVIATION;
    const flag = numberOf(settings, 'flag', 0);
    const single = flag > 0 ? middleOfTwoStamps(starts.length, u) : onlyStamp(starts.length, u);
    return succeed(
      [
        {
          name: 't',
          values: starts.map((start, i) => start + blocked[i] / 2),
          dimension: time,
          u: flag > 0 ? u * Math.SQRT1_2 : u,
          sharedErrors: single,
        },
        { name: 'place', values: places, dimension: length, u: 0 },
        {
          name: 'blocked',
          values: blocked,
          dimension: time,
          u: flag > 0 ? u * Math.SQRT2 : 0,
          sharedErrors: differenceOfTwoStamps(single, flag > 0),
        },
      ],
      cleaned.notes,
    );
  },
  onLanes: {
    series: gatesOnLanes,
    among: flagIsWide,
    physical: gatesOnRows,
    readings: (times, settings) => {
      const isFlagged = numberOf(settings, 'flag', 0) > 0;
      const count = isFlagged ? Math.floor(times.length / 2) : times.length;
      const starts = isFlagged ? times.filter((_, i) => i % 2 === 0).subarray(0, count) : times;
      const blocked = starts.map((start, i) => (isFlagged ? times[2 * i + 1] - start : 0));
      const at = numbersOf(settings, 'at') ?? new Float64Array(0);
      return stamped(at.slice(0, count), starts, blocked);
    },
  },
};

function stamped(places: Float64Array, starts: Float64Array, blocked: Float64Array): Readings {
  return {
    instrument: 'gates',
    columns: [
      { name: 'place', values: places, dimension: length, u: 0 },
      { name: 'time', values: starts, dimension: time, u: 0 },
      { name: 'blocked', values: blocked, dimension: time, u: 0 },
    ],
    notes: [],
  };
}

/** A file with one row for each gate, in their order, need not name the places. */
function withPlaces(readings: Readings, at: Float64Array | undefined): Readings {
  const stamps = readings.columns.find((column) => column.name === 'time');
  const named = readings.columns.some((column) => column.name === 'place');
  if (named || at === undefined || stamps?.values.length !== at.length) return readings;
  const places = { name: 'place', values: at, dimension: length, u: 0 };
  return { ...readings, columns: [...readings.columns, places] };
}

function onlyStamp(count: number, standardUncertainty: number): SharedErrors {
  return {
    family: { count, standardUncertainty },
    width: 1,
    row(i, out) {
      out[0] = 1;
      return i;
    },
  };
}

function middleOfTwoStamps(rows: number, standardUncertainty: number): SharedErrors {
  return {
    family: { count: 2 * rows, standardUncertainty },
    width: 2,
    row(i, out) {
      out[0] = 0.5;
      out[1] = 0.5;
      return 2 * i;
    },
  };
}

function differenceOfTwoStamps(middle: SharedErrors, hasFlag: boolean): SharedErrors {
  return {
    family: middle.family,
    width: middle.width,
    row(i, out) {
      out[0] = hasFlag ? -1 : 0;
      if (hasFlag) out[1] = 1;
      return hasFlag ? 2 * i : i;
    },
  };
}

/** Whole passages through all gates, in order of time. */
function passagesThrough(source: MotionSource, at: Float64Array, flag: number): Passage[] {
  const outline = outlineSignal(source);
  const passages: Passage[] = [];
  for (const place of at) {
    if (flag === 0) {
      for (const t of timesAt(source, outline, place))
        passages.push({ place, blockedFrom: t, blockedUntil: t });
      continue;
    }
    const sides = [
      ...timesAt(source, outline, place - flag / 2),
      ...timesAt(source, outline, place + flag / 2),
    ].sort((a, b) => a - b);
    let isBlocked = Math.abs(outline.y[0] - place) < flag / 2;
    let since = Number.NaN;
    for (const t of sides) {
      isBlocked = !isBlocked;
      if (isBlocked) since = t;
      else if (!Number.isNaN(since)) passages.push({ place, blockedFrom: since, blockedUntil: t });
    }
  }
  return passages.sort((a, b) => a.blockedFrom - b.blockedFrom || a.place - b.place);
}

/** Times at which the signal passes a level, in either direction. */
function timesAt(source: MotionSource, outline: SignalOutline, level: number): number[] {
  const { t, y } = outline;
  const times: number[] = [];
  for (let i = 0; i + 1 < t.length; i++) {
    const up = y[i] < level && y[i + 1] >= level;
    const down = y[i] >= level && y[i + 1] < level;
    if (up || down) times.push(crossingTime(source, outline, i, level));
  }
  return times;
}
