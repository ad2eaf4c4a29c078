import { isSymbol } from '../../expression/index.ts';
import type { TableColumn, TrialTable } from '../../lab/index.ts';
import type { Outcome, Place, Problem } from '../../problem/index.ts';
import { fail, problem, succeed } from '../../problem/index.ts';
import type { Rows, TableFitRequest } from './table-fit.ts';

/** Columns by symbol: the name without its unit where that is a symbol, with spaces as underscores. */
export function columnsBySymbol(
  table: TrialTable,
  run: number | undefined,
): ReadonlyMap<string, TableColumn> {
  const columns = new Map<string, TableColumn>();
  for (const column of table.columns) {
    if (column.run !== (run ?? 1)) continue;
    const symbol = column.name.trim().replace(/[\s-]+/g, '_');
    const usable = isSymbol(symbol) && !columns.has(symbol) ? symbol : `c${column.position}`;
    columns.set(usable, column);
  }
  return columns;
}

/** Takes the rows in which no cell that the fit needs is blank. */
export function readRows(
  table: TrialTable,
  columns: ReadonlyMap<string, TableColumn>,
  variables: readonly string[],
  request: TableFitRequest,
  place: Place,
): Outcome<Rows> {
  const problems: Problem[] = [];
  const uncertainty = (written: string | undefined, what: string): TableColumn | number | null => {
    if (written === undefined) return null;
    const column = columns.get(written);
    if (column !== undefined) return column;
    const value = Number(written);
    if (Number.isFinite(value) && value > 0) return value;
    problems.push(
      problem(
        'unknown-column',
        place,
        `"${written}" for ${what} is neither a column nor a number above 0; the columns are ${[...columns.keys()].join(', ')}.`,
      ),
    );
    return null;
  };
  const ux = uncertainty(request.ux, 'the uncertainty of x');
  const uy = uncertainty(request.uy, 'the uncertainty of y');
  const weights = uncertainty(request.weights, 'the weights');
  if (uy !== null && weights !== null) {
    problems.push(
      problem(
        'weights-twice',
        place,
        'Both an uncertainty of y and weights are given; one of them says how much each reading counts.',
      ),
    );
  }
  const used = variables.flatMap((name) => columns.get(name) ?? []);
  const isColumn = (part: TableColumn | number | null): part is TableColumn =>
    part !== null && typeof part !== 'number';
  const all = [...used, ...[ux, uy, weights].filter(isColumn)];
  for (const column of all) if (column.notNumbers.count > 0) problems.push(...column.notNumbers.first);
  if (problems.length > 0) return fail(...problems);
  const rows: number[] = [];
  for (let row = 0; row < table.rows; row++) {
    if (all.every((column) => !Number.isNaN(column.values[row] ?? Number.NaN))) rows.push(row);
  }
  const take = (column: TableColumn) => Float64Array.from(rows, (row) => column.values[row]);
  const taken = (part: TableColumn | number | null) => (isColumn(part) ? take(part) : part);
  const weight = taken(weights);
  return succeed({
    variables: new Map(
      variables.flatMap((name) => {
        const column = columns.get(name);
        return column === undefined ? [] : [[name, take(column)] as const];
      }),
    ),
    n: rows.length,
    leftOut: table.rows - rows.length,
    ux: taken(ux),
    uy:
      weight === null
        ? taken(uy)
        : typeof weight === 'number'
          ? 1 / Math.sqrt(weight)
          : weight.map((value) => 1 / Math.sqrt(value)),
    uncertaintyFrom: weight === null ? undefined : 'scatter',
  });
}
