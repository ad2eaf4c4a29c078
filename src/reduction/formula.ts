import {
  type CompiledColumns,
  type CompiledFunction,
  compileColumns,
  compileFunction,
  differentiate,
  type Expression,
  namesIn,
  simplify,
  type Tree,
} from '../expression/index.ts';
import type { Column } from '../instrument/index.ts';
import type { Dimension } from '../quantity/index.ts';
import { DerivedColumn } from './lazy-column.ts';
import { type NamesAllowed, type SortedNames, sortNames } from './names-at-hand.ts';
import { combineErrors } from './scalar-errors.ts';
import type { RunState, Scalar } from './state.ts';
import type { ReductionContext, RowSet } from './step.ts';

/** An expression worked out row by row. */
export interface ColumnFormula {
  readonly text: string;
  readonly tree: Tree;
  /** One of its columns. */
  readonly like: string;
  readonly dimension: Dimension;
  readonly rows: RowSet;
  readonly quantitiesRead: ReadonlySet<string>;
  /** The rows' values with their uncertainty; the uncertainty only costs when asked for. */
  column(state: RunState, quantities: Float64Array): Column;
  /** The rows' values. */
  values(state: RunState, quantities: Float64Array): Float64Array;
}

/**
 * Compiles a checked expression of at least one column.
 *
 * Uncertainties of scalars and quantities in it are common to all rows and not part of the column's u.
 */
export function prepareColumnFormula(
  expression: Expression,
  dimension: Dimension,
  rows: RowSet,
  context: ReductionContext,
): ColumnFormula {
  const names = sortNames(namesIn(expression.tree), context, { columns: true });
  const { tree } = expression;
  const onlyName = tree.kind === 'name' && names.columns.length === 1 ? tree.name : null;
  if (onlyName !== null) {
    return {
      text: expression.text,
      tree,
      like: onlyName,
      dimension,
      rows,
      quantitiesRead: new Set(),
      column: (state) => columnOf(state, onlyName),
      values: (state) => columnOf(state, onlyName).values,
    };
  }
  const gather = scalarGatherer(names, context);
  const options = tableOptions(context);
  const compile = (made: Tree): CompiledColumns =>
    compileColumns(simplify(made), names.columns, gather.names, options);
  const evaluate = compile(tree);
  const derivatives = names.columns.map((name) => onDemand(() => compile(differentiate(tree, name))));
  return {
    text: expression.text,
    tree: simplify(tree),
    like: names.columns[0],
    dimension,
    rows,
    quantitiesRead: new Set(names.quantities),
    values(state, quantities) {
      const inputs = names.columns.map((name) => columnOf(state, name).values);
      const out = new Float64Array(inputs[0].length);
      evaluate(inputs, gather.values(state, quantities), out);
      return out;
    },
    column(state, quantities) {
      const columns = names.columns.map((name) => columnOf(state, name));
      const inputs = columns.map((column) => column.values);
      // Derivatives may be asked for when the caller has long gone on to other quantities.
      const scalars = gather.values(state, quantities).slice();
      const work = (compiled: CompiledColumns): Float64Array => {
        const out = new Float64Array(inputs[0].length);
        compiled(inputs, scalars, out);
        return out;
      };
      const sensitivities = columns.map((column, j) => ({
        column,
        derivative: onDemand(() => work(derivatives[j]())),
      }));
      return new DerivedColumn(expression.text, work(evaluate), dimension, sensitivities);
    },
  };
}

type ColumnEvaluator = (state: RunState, quantities: Float64Array) => Float64Array;

/** A compiled tree of columns, scalars and quantities, by the names that it holds. */
function columnEvaluator(tree: Tree, names: SortedNames, context: ReductionContext): ColumnEvaluator {
  const gather = scalarGatherer(names, context);
  const run = compileColumns(simplify(tree), names.columns, gather.names, tableOptions(context));
  return (state, quantities) => {
    const columns = names.columns.map((name) => columnOf(state, name).values);
    const out = new Float64Array(columns[0].length);
    run(columns, gather.values(state, quantities), out);
    return out;
  };
}

/** The scalars and quantities of an expression as one vector, quantities last. */
export function scalarGatherer(
  names: SortedNames,
  context: ReductionContext,
): { names: string[]; values(state: RunState, quantities: Float64Array): Float64Array } {
  const indices = names.quantities.map((name) => context.quantities.indexOf(name));
  const { scalars } = names;
  const vector = new Float64Array(scalars.length + indices.length);
  return {
    names: [...scalars, ...names.quantities],
    values(state, quantities) {
      for (let i = 0; i < scalars.length; i++) vector[i] = scalarOf(state, scalars[i]).value;
      for (let i = 0; i < indices.length; i++) vector[scalars.length + i] = quantities[indices[i]];
      return vector;
    },
  };
}

/** An expression of scalars and quantities. */
export interface ScalarFormula {
  readonly text: string;
  readonly tree: Tree;
  readonly dimension: Dimension;
  readonly quantitiesRead: ReadonlySet<string>;
  scalar(state: RunState, quantities: Float64Array): Scalar;
}

/** Compiles a checked expression of scalars and quantities; its u holds what the scalars' errors make of it. */
export function prepareScalarFormula(
  expression: Expression,
  dimension: Dimension,
  context: ReductionContext,
): ScalarFormula {
  const names = sortNames(namesIn(expression.tree), context, { columns: false });
  const gather = scalarGatherer(names, context);
  const options = tableOptions(context);
  const evaluate = compileFunction([expression.tree], gather.names, options);
  const gradient = onDemand(
    (): CompiledFunction =>
      compileFunction(
        names.scalars.map((name) => simplify(differentiate(expression.tree, name))),
        gather.names,
        options,
      ),
  );
  const out = new Float64Array(1);
  return {
    text: expression.text,
    tree: expression.tree,
    dimension,
    quantitiesRead: new Set(names.quantities),
    scalar(state, quantities) {
      const inputs = gather.values(state, quantities);
      evaluate(inputs, out);
      const value = out[0];
      if (!state.findsUncertainties) return withoutUncertainty(value, dimension);
      const slopes = new Float64Array(names.scalars.length);
      gradient()(inputs, slopes);
      return combineErrors(
        value,
        dimension,
        names.scalars.map((name, j) => ({ errors: scalarOf(state, name).errors, factor: slopes[j] })),
      );
    },
  };
}

/** A condition on each row. */
export interface RowCondition {
  readonly text: string;
  readonly tree: Tree;
  /** One of its columns. */
  readonly like: string;
  readonly rows: RowSet;
  readonly quantitiesRead: ReadonlySet<string>;
  /** 1 where true, 0 elsewhere, also where a value is not a number. */
  holds(state: RunState, quantities: Float64Array): Float64Array;
}

/** Compiles a checked condition on at least one column. */
export function prepareRowCondition(
  expression: Expression,
  rows: RowSet,
  context: ReductionContext,
): RowCondition {
  const allowed: NamesAllowed = { columns: true };
  const names = sortNames(namesIn(expression.tree), context, allowed);
  return {
    text: expression.text,
    tree: simplify(expression.tree),
    like: names.columns[0],
    rows,
    quantitiesRead: new Set(names.quantities),
    holds: columnEvaluator(expression.tree, names, context),
  };
}

/** A scalar of a lean run. */
export function withoutUncertainty(value: number, dimension: Dimension): Scalar {
  return { value, standardUncertainty: Number.NaN, degreesOfFreedom: Number.NaN, dimension, errors: [] };
}

/** The column of a name that a checked expression holds. */
export function columnOf(state: RunState, name: string): Column {
  const column = state.columns.get(name);
  if (column === undefined) throw new Error(`The run has no column "${name}": was a step left out?`);
  return column;
}

/** The scalar of a name that a checked expression holds. */
function scalarOf(state: RunState, name: string): Scalar {
  const scalar = state.scalars.get(name);
  if (scalar === undefined) throw new Error(`The run has no scalar "${name}": was a step left out?`);
  return scalar;
}

export function tableOptions(context: ReductionContext) {
  return context.tables === undefined ? {} : { tables: context.tables };
}

function onDemand<T>(make: () => T): () => T {
  let made: { value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
