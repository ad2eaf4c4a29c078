/**
 * Factors a small dense matrix in place into lower and upper triangles, with partial pivoting.
 *
 * @param matrix `size` × `size`, row-major; overwritten by the factors
 * @param pivots length ≥ `size`, overwritten
 * @returns false where the matrix is singular or not finite
 * Source: Golub, Van Loan, Matrix Computations, 4th ed. (2013), algorithm 3.4.1
 */
export function factorMatrix(matrix: Float64Array, size: number, pivots: Int32Array): boolean {
  for (let column = 0; column < size; column++) {
    let pivot = column;
    let largest = Math.abs(matrix[column * size + column]);
    for (let row = column + 1; row < size; row++) {
      const candidate = Math.abs(matrix[row * size + column]);
      if (candidate > largest) {
        largest = candidate;
        pivot = row;
      }
    }
    pivots[column] = pivot;
    if (!(largest > 0 && largest < Number.POSITIVE_INFINITY)) return false;
    if (pivot !== column) swapRows(matrix, size, pivot, column);
    const reciprocal = 1 / matrix[column * size + column];
    for (let row = column + 1; row < size; row++) {
      const factor = matrix[row * size + column] * reciprocal;
      matrix[row * size + column] = factor;
      if (factor === 0) continue;
      for (let k = column + 1; k < size; k++) matrix[row * size + k] -= factor * matrix[column * size + k];
    }
  }
  return true;
}

/**
 * Solves with the factors of `factorMatrix`, in place.
 *
 * @param right length ≥ `size`: the right side, overwritten by the solution
 */
export function solveFactored(
  matrix: Float64Array,
  size: number,
  pivots: Int32Array,
  right: Float64Array,
): void {
  for (let row = 0; row < size; row++) {
    const pivot = pivots[row];
    const value = right[pivot];
    right[pivot] = right[row];
    right[row] = value;
  }
  for (let row = 1; row < size; row++) {
    let sum = right[row];
    for (let k = 0; k < row; k++) sum -= matrix[row * size + k] * right[k];
    right[row] = sum;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = right[row];
    for (let k = row + 1; k < size; k++) sum -= matrix[row * size + k] * right[k];
    right[row] = sum / matrix[row * size + row];
  }
}

function swapRows(matrix: Float64Array, size: number, first: number, second: number): void {
  for (let k = 0; k < size; k++) {
    const value = matrix[first * size + k];
    matrix[first * size + k] = matrix[second * size + k];
    matrix[second * size + k] = value;
  }
}
