import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { cleanStamps, takeRows } from './clean-stamps.ts';
import { crossingTime } from './crossing-time.ts';
import { edgesOnRows, spacingOf } from './edges-on-rows.ts';
import type { Column, InstrumentKind, Readings } from './instrument-kind.ts';
import { countPastLostEdges } from './lost-edges.ts';
import { outlineSignal } from './monotone-stretches.ts';
import { takeColumns } from './raw-column.ts';
import { numberOf, type SettingValues, wordOf } from './setting-spec.ts';
import { treeOf } from './setting-trees.ts';
import { stampErrors } from './stamp-errors.ts';
import { angle, time } from './usual-dimensions.ts';
import { ROUNDING_DEVIATION, stampInWholeTicks } from './whole-ticks.ts';

const MOST_EDGES = 1_000_000;
const FULL_TURN = 2 * Math.PI;

/**
 * A gate that marks on a turning wheel pass: it stamps the time of each edge.
 *
 * Edges come when the angle turned since the start reaches (k − phase) spacings, k = 1, 2 … and, turning back,
 * k = 0, −1 …; a counter does not know the direction. The inverse takes the k-th stamp for the angle of k.
 * The stamps bring clock/√12 each, independent from stamp to stamp; that the clock began to tick at some moment
 * shifts all stamps of a run alike, which no speed and no duration shows.
 */
export const edges: InstrumentKind = {
  kind: 'edges',
  what: 'Marks on a turning wheel pass a gate, which stamps the time of each.',
  settings: [
    {
      kind: 'count',
      name: 'edges per turn',
      what: 'How many edges pass the gate in one full turn.',
      required: true,
      least: 1,
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
    {
      kind: 'expression',
      name: 'phase',
      what: 'Share of a spacing that has already passed at release; with 0 a mark stands at the gate and the first edge comes after one whole spacing.',
      dimension: angle,
      required: false,
      default: 0,
    },
    {
      kind: 'choice',
      name: 'lost edges',
      what: 'Whether an interval of two or three spacings between regular ones is counted as such (mended) or as one spacing (left).',
      required: false,
      options: ['mended', 'left'],
      default: 'mended',
    },
  ],
  signals: [
    { name: 'of', what: 'The angle turned, in radians.', kind: 'value', dimension: angle, required: true },
  ],
  mainColumn: 'edge',
  rawColumns: () => [{ name: 'edge', dimension: time }],
  physicalColumns: () => [
    { name: 't', dimension: time },
    { name: 'angle', dimension: angle },
  ],
  observe(source, settings, random) {
    if (source.kind !== 'motion') throw new TypeError('edges look at the angle of a motion');
    const spacing = FULL_TURN / numberOf(settings, 'edges per turn', Number.NaN);
    const phase = numberOf(settings, 'phase', 0);
    const outline = outlineSignal(source);
    const { t, y } = outline;
    const base = y.length > 0 ? y[0] - phase * spacing : 0;
    const passed = y.map((value) => (value - base) / spacing);
    // What rounding leaves of "y[0] is the start" must not make an edge of the mark that stands at the gate.
    if (passed.length > 0) passed[0] = phase;
    const times: number[] = [];
    for (let i = 0; i + 1 < t.length; i++) {
      const from = passed[i];
      const to = passed[i + 1];
      if (!Number.isFinite(to)) return notFinite(t[i + 1]);
      if (Math.abs(to - from) + times.length > MOST_EDGES) return tooManyEdges();
      if (to > from) {
        for (let k = Math.floor(from) + 1; k <= to; k++) {
          times.push(crossingTime(source, outline, i, base + k * spacing));
        }
      } else if (to < from) {
        for (let k = Math.ceil(from) - 1; k >= to; k--) {
          times.push(crossingTime(source, outline, i, base + k * spacing));
        }
      }
    }
    const stamps = Float64Array.from(times);
    stampInWholeTicks(stamps, numberOf(settings, 'clock', 0), random);
    return succeed<Readings>({
      instrument: 'edges',
      columns: [{ name: 'edge', values: stamps, dimension: time, u: 0 }],
      notes: [],
    });
  },
  physical(readings, settings) {
    const raw = takeColumns(readings, ['edge']);
    if (!raw.ok) return raw;
    const cleaned = cleanStamps(raw.value[0], [], readings.instrument);
    const times = takeRows(raw.value[0], cleaned.rows);
    const counts = new Float64Array(times.length);
    let count = 0;
    let used = 0;
    for (let i = 0; i < raw.value[0].length; i++) {
      const fate = cleaned.fates === null ? 'used' : cleaned.fates[i];
      // An edge whose stamp is spoilt still passed; a stamp that is there twice is one edge.
      if (fate === 'used' || fate === 'out of order') count += 1;
      if (fate === 'used') counts[used++] = count;
    }
    const lost =
      wordOf(settings, 'lost edges', 'mended') === 'mended'
        ? countPastLostEdges(times, counts, numberOf(settings, 'clock', 0), readings.instrument)
        : [];
    return succeed(columnsOf(times, counts, settings), [...cleaned.notes, ...lost]);
  },
  onLanes: {
    series: (settings) => ({
      kind: 'crossings',
      spacing: spacingOf(settings),
      offset: treeOf(settings, 'phase', 0),
    }),
    physical: edgesOnRows,
    readings: (times) => ({
      instrument: 'edges',
      columns: [{ name: 'edge', values: times, dimension: time, u: 0 }],
      notes: [],
    }),
  },
};

function columnsOf(times: Float64Array, counts: Float64Array, settings: SettingValues): readonly Column[] {
  const spacing = FULL_TURN / numberOf(settings, 'edges per turn', Number.NaN);
  const phase = numberOf(settings, 'phase', 0);
  const u = numberOf(settings, 'clock', 0) * ROUNDING_DEVIATION;
  for (let i = 0; i < counts.length; i++) counts[i] = (counts[i] - phase) * spacing;
  return [
    { name: 't', values: times, dimension: time, u, sharedErrors: stampErrors(times.length, u) },
    { name: 'angle', values: counts, dimension: angle, u: 0 },
  ];
}

function notFinite(t: number): Outcome<Readings> {
  const found: Problem = problem(
    'not-finite',
    { step: 'edges' },
    `the angle is not a finite number at ${t} s; an edge is a mark that passes at some angle.`,
  );
  return fail(found);
}

function tooManyEdges(): Outcome<Readings> {
  return fail(
    problem(
      'too-many-readings',
      { step: 'edges' },
      `more than ${MOST_EDGES} edges would pass; fewer can be worked with.`,
      'Is the angle in radians, and does the motion stop?',
    ),
  );
}
