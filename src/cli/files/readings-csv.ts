import type { Readings } from '../../instrument/index.ts';
import { type Dimension, formatDimension, parseUnit, sameDimension } from '../../quantity/index.ts';

/** Coherent SI units with a name of their own, which read better than base units (SI Brochure, 9th edition, table 4). */
const named = ['N', 'J', 'W', 'V', 'Ω', 'Pa', 'C', 'F', 'T', 'Wb', 'H'].flatMap((text) => {
  const unit = parseUnit(text);
  return unit.ok ? [unit.value] : [];
});

/** Digits of a reading in the file: as many as a double answers for, without the last one that only rounding makes. */
const digits = 15;

/** A column of the file: heading with unit, and the raw column that it holds. */
export interface CsvColumn {
  readonly instrument: string;
  readonly rawColumn: string;
  readonly heading: string;
  readonly values: Float64Array;
}

/** The columns that a run's readings make: 'wheel gate, edge (s)'. */
export function csvColumnsOf(readings: readonly Readings[]): readonly CsvColumn[] {
  return readings.flatMap(({ instrument, columns }) =>
    columns.map(({ name, dimension, values }) => {
      const unit = unitOf(dimension);
      return {
        instrument,
        rawColumn: name,
        heading: `${instrument} ${name}${unit === '' ? '' : ` (${unit})`}`,
        values,
      };
    }),
  );
}

/**
 * Readings of one run as comma-separated text (RFC 4180), SI units in the headings, blank where there is no reading.
 *
 * @param remark a line above the headings, which says what the file is wherever it goes
 */
export function writeReadingsCsv(columns: readonly CsvColumn[], remark: string): string {
  const rows = Math.max(0, ...columns.map(({ values }) => values.length));
  const lines = [`# ${remark.replaceAll(',', ';')}`, columns.map(({ heading }) => quote(heading)).join(',')];
  for (let row = 0; row < rows; row++)
    lines.push(columns.map(({ values }) => printReading(values[row])).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

function unitOf(dimension: Dimension): string {
  const bare = formatDimension(dimension);
  if (bare === '1') return '';
  return named.find((unit) => sameDimension(unit.dimension, dimension))?.text ?? bare;
}

function printReading(value: number | undefined): string {
  if (value === undefined || Number.isNaN(value)) return '';
  return String(Number(value.toPrecision(digits)));
}

function quote(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
