import { formatUnit } from '../../quantity/index.ts';
import type { DataTable } from '../writing/index.ts';

/** Digits that a double answers for; the last one is often only rounding. */
const DIGITS = 15;

/** A field of the table of a trial. */
export interface TrialField {
  readonly name: string;
  /** As printed; '' for a plain number, and where the file names none. */
  readonly unit: string;
}

/** The columns of a trial's table as they are headed in its CSV, no two alike. */
export function fieldsOf({ columns }: DataTable): readonly TrialField[] {
  const taken = new Set<string>();
  return columns.map(({ heading, unit }, index) => {
    const plain = heading.trim() === '' ? `column ${index + 1}` : heading.trim();
    let name = plain;
    for (let count = 2; taken.has(name); count++) name = `${plain} ${count}`;
    taken.add(name);
    return { name, unit: unit === undefined || unit === null ? '' : formatUnit(unit) };
  });
}

/**
 * The numbers of one trial as they were read: comma-separated (RFC 4180), UTF-8, decimal point, the units of the raw
 * file, nothing where the file has no number.
 */
export function trialCsv(trial: DataTable): string {
  const rows = Math.max(0, ...trial.columns.map(({ values }) => values.length));
  const lines = [
    fieldsOf(trial)
      .map(({ name }) => quote(name))
      .join(','),
  ];
  for (let row = 0; row < rows; row++)
    lines.push(trial.columns.map(({ values }) => printReading(values[row])).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

function printReading(value: number | undefined): string {
  if (value === undefined || !Number.isFinite(value)) return '';
  return String(Number(value.toPrecision(DIGITS)));
}

function quote(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
