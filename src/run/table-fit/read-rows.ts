import { isSymbol } from '../../expression/index.ts';
import type { TableColumn, TrialTable } from '../../lab/index.ts';
import type { Outcome, Place, Problem } from '../../problem/index.ts';
import { fail, problem, succeed, warning } from '../../problem/index.ts';
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
  const warnings: Problem[] = [];
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
  let weightless = 0;
  for (let row = 0; row < table.rows; row++) {
    if (!all.every((column) => !Number.isNaN(column.values[row] ?? Number.NaN))) continue;
    const weight = isColumn(weights) ? weights.values[row] : 1;
    if (weight === 0) weightless++;
    else if (weight > 0 && weight < Number.POSITIVE_INFINITY) rows.push(row);
    else return fail(badWeight(weight, row, place));
  }
  if (weightless > 0) {
    const [were, do_] = weightless === 1 ? ['1 row has', 'does'] : [`${weightless} rows have`, 'do'];
    warnings.push(warning('zero-weight', place, `${were} weight 0 and ${do_} not count.`));
  }
  const take = (column: TableColumn) => Float64Array.from(rows, (row) => column.values[row]);
  const taken = (part: TableColumn | number | null) => (isColumn(part) ? take(part) : part);
  const weight = taken(weights);
  const given: Rows = {
    variables: new Map(
      variables.flatMap((name) => {
        const column = columns.get(name);
        return column === undefined ? [] : [[name, take(column)] as const];
      }),
    ),
    n: rows.length,
    leftOut: table.rows - rows.length - weightless,
    ux: taken(ux),
    uy:
      weight === null
        ? taken(uy)
        : typeof weight === 'number'
          ? 1 / Math.sqrt(weight)
          : weight.map((value) => 1 / Math.sqrt(value)),
    uncertaintyFrom: weight === null ? undefined : 'scatter',
  };
  return succeed(given, warnings);
}

function badWeight(weight: number, row: number, place: Place): Problem {
  return problem(
    'bad-weight',
    place,
    `The weight of reading ${row + 1} is ${weight}; a weight must be a finite number above 0, or 0 for a reading that does not count.`,
  );
}
