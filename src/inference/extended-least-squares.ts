import { exponentOf } from '../wasm/index.ts';
import {
  add,
  type DoubleDouble,
  divide,
  extend,
  multiply,
  negate,
  squareRoot,
  subtract,
} from './double-double.ts';
import { addMultiple, dotColumns, type ExtendedColumn, scaleColumn } from './extended-column.ts';

/** Solution of an overdetermined linear system, computed with about 30 digits and rounded. */
export interface LeastSquares {
  /** k values. */
  readonly solution: readonly DoubleDouble[];
  /** right − columns·solution, n values. */
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
  /** Inverse of columnsᵀ·columns, k×k row-major. */
  readonly inverse: Float64Array;
  /**
   * For each column, how many times longer it is than its part that no combination of the others can imitate:
   * 1 where it stands square to them, infinite where it is one of their combinations.
   */
  readonly entanglement: Float64Array;
}

/**
 * Linear least squares by Householder triangularisation in double-double arithmetic, columns scaled by powers
 * of two. Holds full double accuracy up to a condition number of about 1e15 of the given columns.
 *
 * @param columns k columns of n; destroyed
 * @param right   n readings; kept
 * Source: Golub, Numer. Math. 7 (1965) 206–216; Björck, Numerical Methods for Least Squares Problems, 1996
 */
export function solveLeastSquares(columns: readonly ExtendedColumn[], right: ExtendedColumn): LeastSquares {
  const n = right.high.length;
  const k = columns.length;
  const originals = columns.map((column) => ({ high: column.high.slice(), low: column.low.slice() }));
  const scales = new Float64Array(k);
  const norms = new Float64Array(k);
  for (let j = 0; j < k; j += 1) {
    scales[j] = powerOfTwoNear(largest(columns[j].high));
    scaleColumn(columns[j], 1 / scales[j]);
    norms[j] = Math.sqrt(dotColumns(columns[j], columns[j]).high);
  }
  const turned: ExtendedColumn = { high: right.high.slice(), low: right.low.slice() };
  const diagonal = triangularise(columns, turned);
  const triangle = (i: number, j: number): DoubleDouble =>
    i === j ? diagonal[i] : { high: columns[j].high[i], low: columns[j].low[i] };

  const solution: DoubleDouble[] = new Array(k);
  for (let i = k - 1; i >= 0; i -= 1) {
    let sum: DoubleDouble = { high: turned.high[i], low: turned.low[i] };
    for (let j = i + 1; j < k; j += 1) sum = subtract(sum, multiply(triangle(i, j), solution[j]));
    solution[i] = divide(sum, triangle(i, i));
  }
  for (let j = 0; j < k; j += 1) solution[j] = divide(solution[j], extend(scales[j]));

  const rest: ExtendedColumn = { high: right.high.slice(), low: right.low.slice() };
  for (let j = 0; j < k; j += 1) addMultiple(rest, negate(solution[j]), originals[j]);

  const inverse = invertGram(triangle, k);
  const entanglement = new Float64Array(k);
  for (let j = 0; j < k; j += 1) entanglement[j] = Math.sqrt(inverse[j * k + j]) * norms[j];
  for (let i = 0; i < k; i += 1)
    for (let j = 0; j < k; j += 1) inverse[i * k + j] = inverse[i * k + j] / scales[i] / scales[j];

  const residuals = new Float64Array(n);
  for (let i = 0; i < n; i += 1) residuals[i] = rest.high[i];
  return { solution, residuals, sumOfSquares: dotColumns(rest, rest).high, inverse, entanglement };
}

/** Householder reflections in place; the upper triangle stays in the columns, its diagonal is returned. */
function triangularise(columns: readonly ExtendedColumn[], right: ExtendedColumn): DoubleDouble[] {
  return columns.map((column, j) => {
    const norm = squareRoot(dotColumns(column, column, j));
    if (norm.high === 0) return extend(0);
    const head: DoubleDouble = { high: column.high[j], low: column.low[j] };
    const diagonal = head.high > 0 ? negate(norm) : norm;
    const pivot = subtract(head, diagonal);
    column.high[j] = pivot.high;
    column.low[j] = pivot.low;
    // The reflector v has vᵀv = −2·diagonal·pivot.
    const halfSquare = negate(multiply(diagonal, pivot));
    for (const other of [...columns.slice(j + 1), right]) {
      addMultiple(other, negate(divide(dotColumns(column, other, j), halfSquare)), column, j);
    }
    return diagonal;
  });
}

/** (RᵀR)⁻¹ from the upper triangle R. */
function invertGram(triangle: (i: number, j: number) => DoubleDouble, k: number): Float64Array {
  const inverse: DoubleDouble[] = new Array(k * k).fill(extend(0));
  for (let j = 0; j < k; j += 1) {
    inverse[j * k + j] = divide(extend(1), triangle(j, j));
    for (let i = j - 1; i >= 0; i -= 1) {
      let sum = extend(0);
      for (let m = i + 1; m <= j; m += 1) sum = add(sum, multiply(triangle(i, m), inverse[m * k + j]));
      inverse[i * k + j] = negate(divide(sum, triangle(i, i)));
    }
  }
  const gram = new Float64Array(k * k);
  for (let i = 0; i < k; i += 1) {
    for (let j = i; j < k; j += 1) {
      let sum = extend(0);
      for (let m = j; m < k; m += 1) sum = add(sum, multiply(inverse[i * k + m], inverse[j * k + m]));
      gram[i * k + j] = sum.high;
      gram[j * k + i] = sum.high;
    }
  }
  return gram;
}

function largest(values: Float64Array): number {
  let most = 0;
  for (const value of values) most = Math.max(most, Math.abs(value));
  return most;
}

function powerOfTwoNear(size: number): number {
  return size > 0 ? 2 ** Math.max(-1000, Math.min(1000, exponentOf(size))) : 1;
}
