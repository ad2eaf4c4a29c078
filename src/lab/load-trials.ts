import { sayDimension } from '../expression/index.ts';
import type { Column, Readings } from '../instrument/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { sameDimension, toSI } from '../quantity/index.ts';
import { countReadings, type OutsideReadings } from './counted-part.ts';
import type { Lab } from './lab.ts';
import { findColumn, readTrial, type TrialTable } from './trial/index.ts';
import type { TrialEntry } from './trial-section.ts';

/** A real run: its readings in SI, and the file they are from, which stays as it is. */
export interface TrialRun {
  readonly entry: TrialEntry;
  readonly readings: readonly Readings[];
  /** Readings of each instrument that lie outside the part that counts, as the file has them before and behind it. */
  readonly outside: readonly OutsideReadings[];
  /** SHA-256 of the raw file, hexadecimal. */
  readonly sha256: string;
  readonly table: TrialTable;
}

/** Gives the bytes of a file of the lab folder, or a problem that says why it cannot be read. */
export type ReadFile = (file: string) => Promise<Outcome<Uint8Array>>;

export interface LoadOptions {
  readonly signal?: { readonly aborted: boolean };
  readonly progress?: (done: number, total: number) => void;
}

/**
 * Reads the files of all trials and takes from each the columns that the lab names.
 *
 * A file with several runs is read once. Notes of the reader (gaps, repeated stamps …) come as warnings.
 *
 * @returns one run a trial, in the lab's order, or every problem found
 */
export async function loadTrials(
  lab: Lab,
  readFile: ReadFile,
  options: LoadOptions = {},
): Promise<Outcome<readonly TrialRun[]>> {
  const tables = new Map<string, Outcome<TrialTable>>();
  const problems: Problem[] = [];
  const warnings = new Set<Problem>();
  const runs: TrialRun[] = [];
  for (const [index, entry] of lab.trials.entries()) {
    const key = JSON.stringify([entry.file, entry.asRead]);
    const known = tables.get(key);
    const table = known ?? (await readTable(entry, readFile, options));
    tables.set(key, table);
    options.progress?.(index + 1, lab.trials.length);
    if (!table.ok) {
      if (known === undefined) problems.push(...table.problems);
      continue;
    }
    for (const note of table.value.notes) warnings.add(note);
    const readings = readingsOf(entry, table.value);
    if (!readings.ok) {
      problems.push(...readings.problems);
      continue;
    }
    for (const note of readings.warnings) warnings.add(note);
    const counted = countReadings(entry, readings.value);
    if (!counted.ok) {
      problems.push(...counted.problems);
      continue;
    }
    runs.push({ entry, ...counted.value, sha256: table.value.sha256, table: table.value });
  }
  return problems.length > 0 ? fail(...problems) : succeed(runs, [...warnings]);
}

async function readTable(
  entry: TrialEntry,
  readFile: ReadFile,
  options: LoadOptions,
): Promise<Outcome<TrialTable>> {
  const bytes = await readFile(entry.file);
  if (!bytes.ok) return fail(...bytes.problems.map((found) => ({ ...found, place: entry.place })));
  return readTrial(bytes.value, {
    file: entry.file,
    overrule: entry.asRead,
    ...(options.signal === undefined ? {} : { signal: options.signal }),
  });
}

function readingsOf(entry: TrialEntry, table: TrialTable): Outcome<readonly Readings[]> {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const readings: Readings[] = [];
  for (const { instrument, columns } of entry.reads) {
    const taken: Column[] = [];
    for (const shape of instrument.kind.rawColumns(instrument.shape)) {
      const heading = columns.get(shape.name);
      if (heading === undefined) continue;
      const found = findColumn(table, heading, entry.run);
      if (!found.ok) {
        problems.push(...found.problems);
        continue;
      }
      warnings.push(...found.warnings);
      const column = found.value;
      if (column.notNumbers.count > 0) {
        problems.push(...column.notNumbers.first);
        continue;
      }
      if (column.unit !== null && !sameDimension(column.unit.dimension, shape.dimension)) {
        problems.push(
          problem(
            'wrong-dimension',
            { file: entry.file },
            `The column "${column.heading}" ${sayDimension(column.unit.dimension)}; "${instrument.name}" reads there what ${sayDimension(shape.dimension)}.`,
          ),
        );
        continue;
      }
      if (column.unit === null && shape.dimension.some((exponent) => exponent !== 0)) {
        problems.push(
          problem(
            'missing-unit',
            { file: entry.file },
            `The column "${column.heading}" names no unit; "${instrument.name}" reads there what ${sayDimension(shape.dimension)}.`,
            `Say it in the lab file: "as read: { units: { ${column.heading}: … } }".`,
          ),
        );
        continue;
      }
      const { unit } = column;
      const values = unit === null ? column.values : column.values.map((value) => toSI(value, unit, 'point'));
      taken.push({ name: shape.name, values, dimension: shape.dimension, u: 0 });
    }
    readings.push({ instrument: instrument.name, columns: withoutBlankRows(taken), notes: [] });
  }
  return problems.length > 0 ? fail(...problems) : succeed(readings, warnings);
}

/** Side-by-side runs end at different rows: rows in which every column is blank are not readings. */
function withoutBlankRows(columns: readonly Column[]): readonly Column[] {
  const rows = columns[0]?.values.length ?? 0;
  const kept: number[] = [];
  for (let row = 0; row < rows; row++) {
    if (columns.some((column) => !Number.isNaN(column.values[row]))) kept.push(row);
  }
  if (kept.length === rows) return columns;
  return columns.map((column) => ({
    ...column,
    values: Float64Array.from(kept, (row) => column.values[row]),
  }));
}
