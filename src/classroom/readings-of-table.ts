import type { Column, Readings } from '../instrument/index.ts';
import type { Lab, LabInstrument, TrialTable } from '../lab/index.ts';
import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { type Dimension, describeDimension, sameDimension, toSI } from '../quantity/index.ts';

type TableColumn = TrialTable['columns'][number];

/**
 * Takes from a file of readings the columns that each instrument of the lab has.
 *
 * A column is found by a heading that one of the lab's trials names, else by the instrument's own name for it, else
 * by its dimension where only one column has it; a column without a unit is taken in the order of the file where
 * the file holds no others.
 *
 * @returns fails where an instrument finds no column: most likely the file is of another experiment
 */
export function readingsOfTable(lab: Lab, table: TrialTable, run: number): Outcome<readonly Readings[]> {
  const { columns } = table;
  const own = columns.filter((column) => column.run === run);
  const file = table.file;
  const problems: Problem[] = [];
  const readings = lab.instruments.flatMap((instrument): Readings[] => {
    const shapes = instrument.kind.rawColumns(instrument.shape);
    const found = shapes.map((shape, index) => findColumn(lab, instrument, shape, own, index, shapes.length));
    const missing = shapes.filter((_, index) => found[index] === null);
    if (missing.length > 0) {
      problems.push(wrongExperiment(instrument, missing, columns, file));
      return [];
    }
    return [
      {
        instrument: instrument.name,
        columns: shapes.flatMap((shape, index): Column[] => {
          const column = found[index];
          if (column === null || column === undefined) return [];
          const { unit } = column;
          const values =
            unit === null ? column.values : column.values.map((value) => toSI(value, unit, 'point'));
          return [{ name: shape.name, values, dimension: shape.dimension, u: 0 }];
        }),
        notes: [],
      },
    ];
  });
  return problems.length > 0 ? fail(...problems) : succeed(withoutBlanks(readings));
}

function findColumn(
  lab: Lab,
  instrument: LabInstrument,
  shape: { readonly name: string; readonly dimension: Dimension },
  columns: readonly TableColumn[],
  index: number,
  wanted: number,
): TableColumn | null {
  const fits = ({ unit }: TableColumn) => unit === null || sameDimension(unit.dimension, shape.dimension);
  const headings = lab.trials.flatMap(({ reads }) =>
    reads
      .filter((read) => read.instrument.name === instrument.name)
      .flatMap((read) => read.columns.get(shape.name) ?? []),
  );
  const named = columns.find((column) => [...headings, shape.name].includes(column.heading) && fits(column));
  if (named !== undefined) return named;
  const ofDimension = columns.filter(
    ({ unit }) => unit !== null && sameDimension(unit.dimension, shape.dimension),
  );
  const [only] = ofDimension;
  // A file with more than the instrument has is most likely that of another one.
  const others = columns.filter(({ unit }) => unit !== null).length;
  if (only !== undefined && ofDimension.length === 1 && others <= wanted) return only;
  const isBare = columns.every(({ unit }) => unit === null);
  return isBare && columns.length === wanted ? (columns[index] ?? null) : null;
}

function wrongExperiment(
  { name }: LabInstrument,
  missing: readonly { readonly name: string; readonly dimension: Dimension }[],
  columns: readonly TableColumn[],
  file: string,
): Problem {
  const wanted = missing.map((shape) => `"${shape.name}", ${describeDimension(shape.dimension)}`);
  const has = columns.map(({ heading }) => `"${heading}"`).join(', ');
  return problem(
    'wrong-experiment',
    { file },
    `The file has no column that "${name}" could have read: it needs ${wanted.join(' and ')}; the file has ${has || 'none'}.`,
    'Is it the file of another experiment?',
  );
}

function withoutBlanks(readings: readonly Readings[]): readonly Readings[] {
  return readings.map((own) => {
    const rows = own.columns[0]?.values.length ?? 0;
    const kept: number[] = [];
    for (let row = 0; row < rows; row++)
      if (own.columns.some(({ values }) => !Number.isNaN(values[row]))) kept.push(row);
    return {
      ...own,
      columns: own.columns.map((column) => ({
        ...column,
        values: Float64Array.from(kept, (row) => column.values[row]),
      })),
    };
  });
}

/** The numbers of the runs that a file holds. */
export function runsIn(table: TrialTable): readonly number[] {
  return [...new Set(table.columns.map(({ run }) => run))].sort((a, b) => a - b);
}
