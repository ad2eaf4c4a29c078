import type { Readings } from '../instrument/index.ts';
import type { Lab, LabInstrument, Slip } from '../lab/index.ts';
import type { MarkingPhrases, Miscount } from './language/index.ts';
import { makeSlip, type SlipParts, type SlipWords, toldSlip } from './make-slip.ts';

/** Slips of settings and readings: marks and periods miscounted, the first edge missed, milliseconds for seconds. */
type Words = MarkingPhrases['slips'];

export function slipsOfInstruments(lab: Lab, words: Words): readonly Slip[] {
  return lab.instruments.flatMap((instrument) => [
    ...slipsOfCount(lab, instrument, 'edges per turn', 'marks', words),
    ...slipsOfCount(lab, instrument, 'counts', 'periods', words),
    ...slipsOfFirstEdge(lab, instrument, words),
    ...slipsOfTime(lab, instrument, words),
  ]);
}

function slipsOfCount(
  lab: Lab,
  { name }: LabInstrument,
  setting: string,
  what: 'marks' | 'periods',
  words: Words,
): readonly Slip[] {
  const count = lab.written.instruments.get(name)?.[setting];
  if (typeof count !== 'number') return [];
  const miscounts: readonly { readonly to: number; readonly how: Miscount }[] = [
    { to: count - 1, how: 'fewer' },
    { to: count + 1, how: 'more' },
    { to: 2 * count, how: 'twice' },
    { to: count / 2, how: 'half' },
  ];
  const possible = miscounts.filter(({ to }) => Number.isInteger(to) && to >= 1 && to !== count);
  return possible.flatMap(({ to, how }) =>
    toldSlip(lab, { instruments: { [name]: { [setting]: to } } }, words.miscounted(what, how, to, count)),
  );
}

function slipsOfFirstEdge(lab: Lab, { name, kind }: LabInstrument, words: Words): readonly Slip[] {
  if (kind.kind !== 'edges') return [];
  return [changedReadings(lab, name, dropFirstRow, words.firstEdgeMissed(name))];
}

function slipsOfTime(lab: Lab, { name, kind, shape }: LabInstrument, words: Words): readonly Slip[] {
  const times = kind
    .rawColumns(shape)
    .filter(({ dimension }) => dimension.every((exponent, base) => exponent === (base === 2 ? 1 : 0)))
    .map((column) => column.name);
  if (times.length === 0) return [];
  return [changedReadings(lab, name, scaleColumns(times, 1000), words.millisecondsForSeconds(name))];
}

function changedReadings(
  lab: Lab,
  name: string,
  change: (readings: Readings) => Readings,
  words: SlipWords,
): Slip {
  const readings: NonNullable<SlipParts['readings']> = (all) =>
    all.map((own) => (own.instrument === name ? change(own) : own));
  return makeSlip(lab, { ...words, readings });
}

function dropFirstRow(readings: Readings): Readings {
  return {
    ...readings,
    columns: readings.columns.map((column) => ({
      ...column,
      values: column.values.subarray(1),
      u: typeof column.u === 'number' ? column.u : column.u.subarray(1),
    })),
  };
}

function scaleColumns(names: readonly string[], factor: number): (readings: Readings) => Readings {
  return (readings) => ({
    ...readings,
    columns: readings.columns.map((column) =>
      names.includes(column.name)
        ? { ...column, values: column.values.map((value) => value * factor) }
        : column,
    ),
  });
}
