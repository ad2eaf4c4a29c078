import type { Tree } from '../expression/index.ts';

/**
 * One step from the readings of a draw to its results, where only values are wanted.
 *
 * Names are those of columns, scalars and parameters of the model; a step sees what stands before it. Conditions and
 * folds (`line`, `mean`, `largest`) see the rows that are left at their place. Whatever the steps cannot follow leaves
 * the draw not reduced: too few rows, a value that is not finite where one is needed, a `require` that is not true.
 *
 * - `series`: the readings of one thing asked, by its name, begin a set of rows
 * - `given`: a column that stands beside the readings where they are real ones
 * - `real`: a number that is 1 where the readings are real ones, 0 where they are those of a motion
 * - `number`: the number of each row, the first is 0
 * - `column`: a new column, row by row
 * - `shifted`: a column as it is `by` rows later
 * - `trim`: leaves out rows at both ends
 * - `require`: must be true in each row but the first `after` and the last `before`
 * - `at least`: fewer rows are for the general way
 * - `keep`: the rows where a condition is true
 * - `keep between`: the rows from the first where `from` is true up to, without, the first after it where `to` is
 * - `line`: unweighted straight line; at least 3 rows
 * - `mean`: mean of the rows, or of those where a condition is true
 * - `largest`: the largest value
 * - `scalar`: a number from parameters and scalars
 */
export type RowStep =
  | { readonly kind: 'series'; readonly name: string; readonly of: string }
  | { readonly kind: 'given'; readonly name: string; readonly like: string; readonly column: string }
  | { readonly kind: 'real'; readonly name: string }
  | { readonly kind: 'number'; readonly name: string; readonly like: string }
  | { readonly kind: 'column'; readonly name: string; readonly like: string; readonly of: Tree }
  | { readonly kind: 'shifted'; readonly name: string; readonly of: string; readonly by: number }
  | { readonly kind: 'trim'; readonly like: string; readonly first: number; readonly last: number }
  | {
      readonly kind: 'require';
      readonly like: string;
      readonly that: Tree;
      readonly after: number;
      readonly before: number;
    }
  | { readonly kind: 'at least'; readonly like: string; readonly rows: number }
  | { readonly kind: 'keep'; readonly like: string; readonly where: Tree }
  | {
      readonly kind: 'keep between';
      readonly like: string;
      readonly from: Tree | null;
      readonly to: Tree | null;
    }
  | {
      readonly kind: 'line';
      readonly like: string;
      readonly of: Tree;
      readonly against: Tree;
      readonly slope: string | null;
      readonly intercept: string | null;
    }
  | {
      readonly kind: 'mean';
      readonly like: string;
      readonly of: Tree;
      readonly where: Tree | null;
      readonly gives: string;
    }
  | { readonly kind: 'largest'; readonly like: string; readonly of: Tree; readonly gives: string }
  | { readonly kind: 'scalar'; readonly of: Tree; readonly gives: string };

/** Where the host puts columns that are given beside readings: the name of what is asked, and of the column. */
export interface GivenColumn {
  readonly of: string;
  readonly column: string;
}

/** The steps of a reduction, and the scalars that are wanted of them. */
export interface RowProgram {
  /** Names of the things asked, in their order. */
  readonly asked: readonly string[];
  readonly steps: readonly RowStep[];
  /** Parameters that the steps take from another column of a draw's row than the motion does. */
  readonly takes: ReadonlyMap<string, number>;
  readonly gives: readonly string[];
}
