import {
  axisUnit,
  type ChartFigure,
  fromText,
  type Mark,
  numberAxis,
  type Panel,
  plainText,
  symbolText,
} from '../../../src/figure/index.ts';
import type { Readings } from '../../../src/instrument/index.ts';
import { type CountedPart, loadTrials } from '../../../src/lab/index.ts';
import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { fromSI, parseUnit, sameDimension } from '../../../src/quantity/index.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';

export interface TrialReadingsQuestion {
  readonly source: LabSource;
  /** Which of the lab's trials. */
  readonly index: number;
}

/** What the axis from left to right is made of; the ends of the part that counts are written so. */
export type AlongAxis =
  | { readonly kind: 'time'; readonly unit: string; readonly first: number; readonly last: number }
  | { readonly kind: 'number'; readonly first: number; readonly last: number };

/** The raw readings of one instrument in one run. */
export interface SeenReadings {
  readonly instrument: string;
  readonly figure: ChartFigure;
  readonly along: AlongAxis;
}

/** All readings of one run as the file has them, with the part that counts. */
export const trialReadingsTask: Task<TrialReadingsQuestion, readonly SeenReadings[]> = {
  async run(room, { source, index }): Promise<Outcome<readonly SeenReadings[]>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab } = opened.value;
    const entry = lab.trials[index];
    if (entry === undefined) return succeed([]);
    const whole = { ...lab, trials: [{ ...entry, counts: null }] };
    const loaded = await loadTrials(whole, room.readerOf(source.files));
    if (!loaded.ok) return loaded;
    const readings = loaded.value[0]?.readings ?? [];
    return succeed(
      readings.flatMap((own) => seeReadings(own, entry.name, entry.counts)),
      loaded.warnings,
    );
  },
};

const second = parseUnit('s');

function seeReadings(
  { instrument, columns }: Readings,
  run: string,
  counts: CountedPart | null,
): readonly SeenReadings[] {
  const count = columns[0]?.values.length ?? 0;
  if (count === 0) return [];
  const numbers = Float64Array.from({ length: count }, (_, i) => i + 1);
  const times = columns.find(
    ({ dimension }) => second.ok && sameDimension(dimension, second.value.dimension),
  );
  const isOrdered = times !== undefined && rises(times.values);
  const unit = times === undefined ? null : axisUnit(times.dimension, [times.values]);
  const inUnit = (values: Float64Array): Float64Array =>
    unit === null ? values : values.map((value) => unit.fromSI(value));
  const x = isOrdered ? inUnit(times.values) : numbers;
  const along: AlongAxis =
    isOrdered && unit !== null
      ? { kind: 'time', unit: unit.text, first: x[0], last: x[count - 1] }
      : { kind: 'number', first: 1, last: count };
  const shown = columns.filter((column) => !isOrdered || column !== times);
  const parts: readonly Panel[] =
    shown.length > 0
      ? shown.map(({ name, values, dimension }) => {
          const own = axisUnit(dimension, [values]);
          return panelOf(
            name,
            own.text,
            x,
            values.map((value) => own.fromSI(value)),
          );
        })
      : [
          panelOf('reading', '', x, numbers),
          panelOf('interval to the one before', unit?.text ?? '', x, intervalsOf(x)),
        ];
  const regions = regionsOf(counts, along, x);
  const panels = parts.map((panel, index) => ({
    ...panel,
    marks: [...(index === 0 ? regions : regions.map((mark) => ({ ...mark, name: [] }))), ...panel.marks],
  }));
  const quantity = along.kind === 'time' ? symbolText('t') : fromText('number of the reading');
  const figure: ChartFigure = {
    kind: 'chart',
    name: 'raw-readings',
    title: `Readings of ${instrument} in ${run}`,
    description: `${count} readings against ${plainText(quantity)}, as the file has them.`,
    ...WORDING,
    statement: [],
    x: numberAxis(quantity, along.kind === 'time' ? along.unit : ''),
    panels,
  };
  return [{ instrument, figure, along }];
}

function panelOf(name: string, unit: string, x: Float64Array, y: Float64Array): Panel {
  const quantity = /^[a-zA-Z]$/.test(name) ? symbolText(name) : fromText(name);
  const mark: Mark = { kind: 'points', role: 'measured', name: [], x, y, ux: null, uy: null };
  return { y: numberAxis(quantity, unit), share: 1, marks: [mark] };
}

/** What does not count, left and right of what does. */
function regionsOf(counts: CountedPart | null, along: AlongAxis, x: Float64Array): readonly Mark[] {
  if (counts === null) return [];
  const place = (end: CountedPart['from'], side: 'from' | 'to'): number => {
    const open = side === 'from' ? along.first : along.last;
    if (end === null) return open;
    if (end.kind === 'number') return x[Math.min(end.value, x.length) - 1];
    if (along.kind === 'number') return open;
    const unit = parseUnit(along.unit);
    return unit.ok ? fromSI(end.value, unit.value, 'interval') : open;
  };
  const [from, to] = [place(counts.from, 'from'), place(counts.to, 'to')];
  const region = (start: number, end: number): readonly Mark[] =>
    end > start
      ? [
          {
            kind: 'region',
            role: 'quiet',
            look: 'hatched',
            name: fromText('does not count'),
            from: start,
            to: end,
          },
        ]
      : [];
  const sides = [...region(along.first, from), ...region(to, along.last)];
  return sides.map((mark, index) => (index === 0 ? mark : { ...mark, name: [] }));
}

/** Each value less the one before it; the first has none. */
function intervalsOf(values: Float64Array): Float64Array {
  return values.map((value, index) => (index === 0 ? Number.NaN : value - values[index - 1]));
}

function rises(values: Float64Array): boolean {
  for (let i = 1; i < values.length; i++) if (!(values[i] >= values[i - 1])) return false;
  return true;
}
