import { succeed } from '../problem/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import type { InstrumentKind, Readings } from './instrument-kind.ts';
import { takeColumns } from './raw-column.ts';
import { numberOf } from './setting-spec.ts';
import { stampErrors } from './stamp-errors.ts';
import { ROUNDING_DEVIATION, roundToResolution } from './whole-ticks.ts';

/**
 * A person who reads a scale: at the end of the motion, or once for each point of a relation.
 *
 * It brings division/√12 and the spread with which a person reads, as a root of squares.
 */
export const ruler: InstrumentKind = {
  kind: 'ruler',
  what: 'A person reads a scale.',
  settings: [
    {
      kind: 'expression',
      name: 'division',
      what: 'Step to which the scale is read.',
      dimension: 'of signal',
      required: false,
      default: 0,
      limits: 'not negative',
    },
    {
      kind: 'expression',
      name: 'spread',
      what: 'Standard deviation of reading the scale.',
      dimension: 'of signal',
      required: false,
      default: 0,
      limits: 'not negative',
    },
  ],
  signals: [{ name: 'of', what: 'What is read.', kind: 'value', dimension: 'any', required: true }],
  mainColumn: 'reading',
  rawColumns: (signal) => [
    ...(signal.against === undefined ? [] : [signal.against]),
    { name: 'reading', dimension: signal.dimension },
  ],
  physicalColumns: (signal) => [
    ...(signal.against === undefined ? [] : [signal.against]),
    { name: 'reading', dimension: signal.dimension },
  ],
  observe(source, settings, random) {
    if (source.kind === 'events') throw new TypeError('a ruler reads a motion or a relation');
    const shown =
      source.kind === 'points' ? source.values.slice() : Float64Array.of(source.valueBefore(source.endS));
    if (random !== null) {
      const spread = numberOf(settings, 'spread', 0);
      if (spread > 0) for (let i = 0; i < shown.length; i++) shown[i] += spread * random.normal();
      roundToResolution(shown, numberOf(settings, 'division', 0));
    }
    const column = { name: 'reading', values: shown, dimension: source.dimension, u: 0 };
    return succeed<Readings>({
      instrument: 'ruler',
      columns: source.kind === 'points' ? [{ ...source.against, u: 0 }, column] : [column],
      notes: [],
    });
  },
  physical(readings, settings) {
    const raw = takeColumns(readings, ['reading']);
    if (!raw.ok) return raw;
    const division = numberOf(settings, 'division', 0);
    const u = hypotenuse(division * ROUNDING_DEVIATION, numberOf(settings, 'spread', 0));
    return succeed(
      readings.columns.map((column) =>
        column.name === 'reading'
          ? { ...column, u, sharedErrors: stampErrors(column.values.length, u), division }
          : column,
      ),
    );
  },
};
