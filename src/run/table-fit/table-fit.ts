import type { Tree } from '../../expression/index.ts';
import type { Fit, LossName } from '../../inference/index.ts';
import type { Place } from '../../problem/index.ts';

/** What is asked of a fit to a table; columns by their symbols. */
export interface TableFitRequest {
  /** 'y = b1*(1 - exp(-b2*x))': an expression of columns on the left, of columns and parameters on the right. */
  readonly of: string;
  /** Start values; every parameter that the expression is not linear in needs one. */
  readonly start: ReadonlyMap<string, number>;
  /** A column's symbol, or a number for all readings, in the unit of the column. */
  readonly ux?: string;
  readonly uy?: string;
  /** A column of weights, each 1/u² up to a common factor: the scatter then tells the uncertainties. */
  readonly weights?: string;
  readonly bounds?: ReadonlyMap<string, readonly [number, number]>;
  readonly loss?: LossName;
  /** Which run, where several stand side by side in the file. */
  readonly run?: number;
  readonly signal?: { readonly aborted: boolean };
}

/** A fit to a table, in the units of the table. */
export interface TableFit {
  readonly parameters: readonly {
    readonly name: string;
    readonly value: number;
    readonly standardUncertainty: number;
  }[];
  readonly fit: Fit;
  readonly kind: 'linear' | 'nonlinear' | 'errors in both';
  /** Readings used, and rows left out because a cell is blank. */
  readonly readings: number;
  readonly leftOut: number;
  /** Symbols of the columns that were read, with their headings. */
  readonly columns: readonly { readonly symbol: string; readonly heading: string }[];
  /** Columns of the fit for a plot: the one variable on the right (null where there are several), left side, fitted. */
  readonly x: { readonly symbol: string; readonly values: Float64Array } | null;
  readonly y: Float64Array;
  readonly fitted: Float64Array;
}

/** The rows of a table that a fit uses. */
export interface Rows {
  /** Symbols of the columns of the expression, and their values in the rows that are whole. */
  readonly variables: ReadonlyMap<string, Float64Array>;
  readonly n: number;
  readonly leftOut: number;
  readonly ux: Float64Array | number | null;
  readonly uy: Float64Array | number | null;
  readonly uncertaintyFrom: 'scatter' | 'stated' | undefined;
}

/** A fit with everything it needs: the trees, the parameters, the rows. */
export interface Setting extends Rows {
  readonly left: Tree;
  readonly right: Tree;
  readonly parameters: readonly string[];
  readonly request: TableFitRequest;
  readonly place: Place;
}
