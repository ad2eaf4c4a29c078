import type { Readings } from '../instrument/index.ts';
import type { Lab, LabInstrument, Slip } from '../lab/index.ts';
import { makeSlip, type SlipParts, type SlipWords, toldSlip } from './make-slip.ts';

/** Slips of settings and readings: marks and periods miscounted, the first edge missed, milliseconds for seconds. */
export function slipsOfInstruments(lab: Lab): readonly Slip[] {
  return lab.instruments.flatMap((instrument) => [
    ...slipsOfCount(lab, instrument, 'edges per turn', 'marks of the wheel'),
    ...slipsOfCount(lab, instrument, 'counts', 'periods'),
    ...slipsOfFirstEdge(lab, instrument),
    ...slipsOfTime(lab, instrument),
  ]);
}

function slipsOfCount(lab: Lab, { name }: LabInstrument, setting: string, what: string): readonly Slip[] {
  const count = lab.written.instruments.get(name)?.[setting];
  if (typeof count !== 'number') return [];
  const miscounts = [
    { to: count - 1, how: 'one too few' },
    { to: count + 1, how: 'one too many' },
    { to: 2 * count, how: 'twice as many' },
    { to: count / 2, how: 'half as many' },
  ].filter(({ to }) => Number.isInteger(to) && to >= 1 && to !== count);
  return miscounts.flatMap(({ to, how }) =>
    toldSlip(
      lab,
      { instruments: { [name]: { [setting]: to } } },
      {
        name: `${how} ${what} counted`,
        is: `${to} ${what} are entered where there are ${count}`,
        helps: `Count the ${what} again.`,
      },
    ),
  );
}

function slipsOfFirstEdge(lab: Lab, { name, kind }: LabInstrument): readonly Slip[] {
  if (kind.kind !== 'edges') return [];
  return [
    changedReadings(lab, name, dropFirstRow, {
      name: `first edge missed (${name})`,
      is: `the first edge of "${name}" is not recorded, so that every place is counted one spacing too small`,
      helps: 'Let the gate be ready before the release, or count the marks that went by.',
    }),
  ];
}

function slipsOfTime(lab: Lab, { name, kind, shape }: LabInstrument): readonly Slip[] {
  const times = kind
    .rawColumns(shape)
    .filter(({ dimension }) => dimension.every((exponent, base) => exponent === (base === 2 ? 1 : 0)))
    .map((column) => column.name);
  if (times.length === 0) return [];
  return [
    changedReadings(lab, name, scaleColumns(times, 1000), {
      name: `milliseconds for seconds (${name})`,
      is: `times of "${name}" in milliseconds are taken for seconds`,
      helps: 'See in which unit the logger writes its times.',
    }),
  ];
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
