import type { Estimate } from '../quantity/index.ts';

/** Correlation coefficient of two of the estimates, named by their places in the list. */
export interface Correlation {
  readonly between: readonly [number, number];
  /** The coefficient, −1 to 1. */
  readonly is: number;
}

/** The k×k matrix of correlation coefficients, row-major, with ones on the diagonal. */
export function correlationMatrix(count: number, correlations: readonly Correlation[]): Float64Array {
  const matrix = new Float64Array(count * count);
  for (let i = 0; i < count; i += 1) matrix[i * count + i] = 1;
  for (const {
    between: [first, second],
    is: coefficient,
  } of correlations) {
    if (!(first >= 0 && first < count && second >= 0 && second < count && first !== second))
      throw new RangeError(`A correlation between ${first} and ${second} of ${count} estimates.`);
    if (!(Math.abs(coefficient) <= 1))
      throw new RangeError(`A correlation coefficient lies between −1 and 1; found ${coefficient}.`);
    matrix[first * count + second] = coefficient;
    matrix[second * count + first] = coefficient;
  }
  return matrix;
}

/** Covariance matrix of the estimates, k×k row-major: uᵢ·uⱼ·rᵢⱼ. */
export function covarianceMatrix(
  estimates: readonly Estimate[],
  correlations: readonly Correlation[],
): Float64Array {
  const k = estimates.length;
  const matrix = correlationMatrix(k, correlations);
  for (let i = 0; i < k; i += 1)
    for (let j = 0; j < k; j += 1)
      matrix[i * k + j] *= estimates[i].standardUncertainty * estimates[j].standardUncertainty;
  return matrix;
}

/**
 * The estimates in groups: those linked by correlations, directly or through others, together.
 *
 * @returns indices in rising order within a group, groups in the order of their first member
 */
export function correlatedGroups(count: number, correlations: readonly Correlation[]): readonly number[][] {
  const leader = Array.from({ length: count }, (_, i) => i);
  const find = (i: number): number => (leader[i] === i ? i : find(leader[i]));
  for (const {
    between: [first, second],
    is: coefficient,
  } of correlations) {
    if (coefficient === 0) continue;
    const a = find(first);
    const b = find(second);
    leader[Math.max(a, b)] = Math.min(a, b);
  }
  const groups = new Map<number, number[]>();
  for (let i = 0; i < count; i += 1) {
    const head = find(i);
    const group = groups.get(head);
    if (group) group.push(i);
    else groups.set(head, [i]);
  }
  return [...groups.values()];
}

/**
 * Lower triangle L with L·Lᵀ = matrix, for a positive semidefinite k×k matrix, or null where it is not one.
 *
 * A coefficient of exactly ±1 is allowed: its row then has nothing of its own.
 * Source: Cholesky; Higham, Accuracy and Stability of Numerical Algorithms, 2002, section 10.3
 */
export function choleskyFactor(matrix: Float64Array, k: number): Float64Array | null {
  const lower = new Float64Array(k * k);
  for (let j = 0; j < k; j += 1) {
    let rest = matrix[j * k + j];
    for (let m = 0; m < j; m += 1) rest -= lower[j * k + m] * lower[j * k + m];
    const allowance = 1e-12 * matrix[j * k + j];
    if (rest < -allowance) return null;
    const pivot = rest > allowance ? Math.sqrt(rest) : 0;
    lower[j * k + j] = pivot;
    for (let i = j + 1; i < k; i += 1) {
      let sum = matrix[i * k + j];
      for (let m = 0; m < j; m += 1) sum -= lower[i * k + m] * lower[j * k + m];
      if (pivot > 0) lower[i * k + j] = sum / pivot;
      else if (Math.abs(sum) > 1e-6 * Math.sqrt(matrix[i * k + i] * matrix[j * k + j])) return null;
    }
  }
  return lower;
}
