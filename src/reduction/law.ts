import {
  checkDimensions,
  compileColumns,
  differentiate,
  type Expression,
  simplify,
} from '../expression/index.ts';
import type { Column } from '../instrument/index.ts';
import { type Dimension, dimensionless } from '../quantity/index.ts';
import { columnOf, scalarGatherer, tableOptions } from './formula.ts';
import { type SortedNames, scopeOf } from './names-at-hand.ts';
import type { SettingsReader } from './settings-reader.ts';
import type { RunState } from './state.ts';
import type { ReductionContext, RowSet } from './step.ts';

/** An expression with free symbols, checked. */
export interface Law {
  readonly expression: Expression;
  readonly names: SortedNames;
  readonly rows: RowSet;
}

/** Reads the law of a setting; null where it is wrong. */
export function readLaw(
  read: SettingsReader,
  name: string,
  free: ReadonlyMap<string, Dimension>,
  expected: { dimension: Dimension; what: string } | undefined,
): Law | null {
  const expression = read.expression(name);
  if (expression === null) return null;
  const rows = read.rowsOf(name, expression, free);
  const names = read.sort(expression, free);
  if (rows === null || names === null) return null;
  const scope = scopeOf(read.context, { columns: true, further: free });
  if (read.take(checkDimensions(expression, scope, expected)) === null) return null;
  const idle = [...free.keys()].filter((symbol) => !names.further.includes(symbol));
  for (const symbol of idle) {
    read.tell('idle-symbol', name, `"${expression.text}" does not hold the free symbol ${symbol}.`);
  }
  return idle.length > 0 ? null : { expression, names, rows };
}

/** A law with the columns, scalars and quantities of one run in it: a function of its free symbols. */
export interface LawOfRun {
  readonly rowCount: number;
  /** Values, and their derivatives by each free symbol where asked for. */
  evaluate(parameters: Float64Array, values: Float64Array, jacobian: readonly Float64Array[] | null): void;
  /** The column of the law, where it holds just one: what a plot goes against. */
  readonly onlyColumn: Column | null;
  /** Derivative by that column; null where there is not just one. */
  slopes(parameters: Float64Array): Float64Array | null;
}

/** Compiles a law and its derivatives once; the result is given each run's numbers. */
export function compileLaw(
  law: Law,
  symbols: readonly string[],
  context: ReductionContext,
): (state: RunState, quantities: Float64Array) => LawOfRun {
  const { names } = law;
  const { tree } = law.expression;
  const gather = scalarGatherer(names, context);
  const scalarNames = [...symbols, ...gather.names];
  const compile = (made: typeof tree) =>
    compileColumns(simplify(made), names.columns, scalarNames, tableOptions(context));
  const value = compile(tree);
  const derivatives = symbols.map((symbol) => compile(differentiate(tree, symbol)));
  const only = names.columns.length === 1 ? names.columns[0] : null;
  const byColumn = only === null ? null : compile(differentiate(tree, only));
  return (state, quantities) => {
    const columns = names.columns.map((name) => columnOf(state, name));
    const inputs = columns.map((column) => column.values);
    const scalars = new Float64Array(scalarNames.length);
    scalars.set(gather.values(state, quantities), symbols.length);
    const rowCount = inputs[0].length;
    return {
      rowCount,
      onlyColumn: only === null ? null : columns[0],
      evaluate(parameters, values, jacobian) {
        scalars.set(parameters);
        value(inputs, scalars, values);
        jacobian?.forEach((column, j) => {
          derivatives[j](inputs, scalars, column);
        });
      },
      slopes(parameters) {
        if (byColumn === null) return null;
        scalars.set(parameters);
        const slopes = new Float64Array(rowCount);
        byColumn(inputs, scalars, slopes);
        return slopes;
      },
    };
  };
}

/** The numbers of the rows as a column, for a plot against nothing better. */
export function rowNumbers(count: number): Column {
  const values = Float64Array.from({ length: count }, (_, i) => i + 1);
  return { name: 'row', values, dimension: dimensionless, u: 0 };
}
