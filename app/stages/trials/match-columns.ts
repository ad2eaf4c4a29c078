import type { PlainValue } from '../../../src/edit/index.ts';
import type { ColumnShape } from '../../../src/instrument/index.ts';
import type { LabInstrument } from '../../../src/lab/index.ts';
import { sameDimension } from '../../../src/quantity/index.ts';
import { isRecord } from '../../bench/plain.ts';
import type { SeenColumn } from '../../compute/tasks/trial-file.ts';

/** For each instrument, for each of its raw columns, the heading in the file; '' where it is not read. */
export type ColumnMap = Readonly<Record<string, Readonly<Record<string, string>>>>;

/** The raw columns that an instrument may be read from. */
export function rawColumnsOf({ kind, shape }: LabInstrument): readonly ColumnShape[] {
  return kind.rawColumns(shape);
}

/** The mapping that the lab file has, whichever of its two forms it is written in. */
export function readColumnMap(reads: unknown, instruments: readonly LabInstrument[]): ColumnMap {
  const written = isRecord(reads) ? reads : {};
  return Object.fromEntries(
    instruments.map((instrument) => {
      const own = written[instrument.name];
      const heading = (column: string): string => {
        if (typeof own === 'string') return column === instrument.kind.mainColumn ? own : '';
        const value = isRecord(own) ? own[column] : undefined;
        return typeof value === 'string' ? value : '';
      };
      return [
        instrument.name,
        Object.fromEntries(rawColumnsOf(instrument).map(({ name }) => [name, heading(name)])),
      ];
    }),
  );
}

/** The mapping as the lab file has it: one heading where only the main column is read, else a map of them. */
export function writeColumnMap(
  map: ColumnMap,
  instruments: readonly LabInstrument[],
): Record<string, PlainValue> {
  const reads: Record<string, PlainValue> = {};
  for (const { name, kind } of instruments) {
    const columns = Object.entries(map[name] ?? {}).filter(([, heading]) => heading !== '');
    const [only] = columns;
    if (only === undefined) continue;
    reads[name] = columns.length === 1 && only[0] === kind.mainColumn ? only[1] : Object.fromEntries(columns);
  }
  return reads;
}

/**
 * A first guess at which column is which: as another run of the lab has it, else the first column of the right
 * dimension that is not taken yet.
 *
 * @param seen   columns of the file
 * @param before mappings of the lab's other runs
 */
export function guessColumns(
  instruments: readonly LabInstrument[],
  seen: readonly SeenColumn[],
  before: readonly ColumnMap[],
): ColumnMap {
  const [firstRun] = seen.map(({ run }) => run);
  const columns = seen.filter(({ run, bad }) => run === firstRun && bad === 0);
  const known = before.find((map) => isReadFrom(map, columns));
  if (known !== undefined) return known;
  const taken = new Set<SeenColumn>();
  return Object.fromEntries(
    instruments.map((instrument) => [
      instrument.name,
      Object.fromEntries(
        rawColumnsOf(instrument).map(({ name, dimension }) => {
          const free = columns.filter((column) => !taken.has(column));
          // A column without a unit may be anything: it is taken where nothing better is there.
          const found =
            free.find((column) => column.dimension !== null && sameDimension(column.dimension, dimension)) ??
            (name === instrument.kind.mainColumn
              ? free.find((column) => column.dimension === null)
              : undefined);
          if (found !== undefined) taken.add(found);
          return [name, found?.heading ?? ''];
        }),
      ),
    ]),
  );
}

/** Whether the file has every column that a mapping names, and it names one at least. */
function isReadFrom(map: ColumnMap, columns: readonly SeenColumn[]): boolean {
  const named = Object.values(map)
    .flatMap((own) => Object.values(own))
    .filter((heading) => heading !== '');
  return named.length > 0 && named.every((name) => columns.some(({ heading }) => heading === name));
}
