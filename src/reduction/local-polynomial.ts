/** Degree of the polynomial that is fitted around each reading. */
export const LOCAL_DEGREE = 3;

/**
 * Weights that give a derivative, at place 0, of the polynomial fitted to readings around it by weighted least
 * squares.
 *
 * With equal weights at even places these are the coefficients of A. Savitzky and M. J. E. Golay, Anal. Chem. 36
 * (1964) 1627, doi:10.1021/ac60214a047.
 *
 * @param places  m places, in units in which they are about 1
 * @param weights m weights, 0 or more; at least degree + 1 above 0
 * @param degree  of the polynomial
 * @param order   of the derivative; 0 is the value
 * @returns m weights, in 1/placeᵒʳᵈᵉʳ
 */
export function localPolynomialWeights(
  places: ArrayLike<number>,
  weights: ArrayLike<number>,
  degree: number,
  order: number,
): Float64Array {
  const size = degree + 1;
  const moments = new Float64Array(2 * degree + 1);
  for (let i = 0; i < places.length; i++) {
    let power = weights[i];
    for (let k = 0; k <= 2 * degree; k++) {
      moments[k] += power;
      power *= places[i];
    }
  }
  // The order-th row of the inverse of the normal matrix gives the order-th coefficient of the polynomial.
  const matrix = Array.from({ length: size }, (_, i) =>
    Float64Array.from({ length: size + 1 }, (_, j) => (j < size ? moments[i + j] : i === order ? 1 : 0)),
  );
  const row = solve(matrix);
  let factorial = 1;
  for (let k = 2; k <= order; k++) factorial *= k;
  return Float64Array.from({ length: places.length }, (_, i) => {
    let sum = 0;
    for (let k = degree; k >= 0; k--) sum = sum * places[i] + row[k];
    return sum * weights[i] * factorial;
  });
}

/** Coefficients, lowest power first, of the least-squares polynomial through readings near place 0. */
export function localPolynomial(places: Float64Array, values: Float64Array, degree: number): Float64Array {
  const size = degree + 1;
  const moments = new Float64Array(2 * degree + 1);
  const right = new Float64Array(size);
  for (let i = 0; i < places.length; i++) {
    let power = 1;
    for (let k = 0; k <= 2 * degree; k++) {
      moments[k] += power;
      if (k < size) right[k] += power * values[i];
      power *= places[i];
    }
  }
  return solve(
    Array.from({ length: size }, (_, i) =>
      Float64Array.from({ length: size + 1 }, (_, j) => (j < size ? moments[i + j] : right[i])),
    ),
  );
}

/** Solves a small system, given with its right side as last column, by elimination with pivots. */
function solve(matrix: Float64Array[]): Float64Array {
  const size = matrix.length;
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let i = column + 1; i < size; i++) {
      if (Math.abs(matrix[i][column]) > Math.abs(matrix[pivot][column])) pivot = i;
    }
    [matrix[column], matrix[pivot]] = [matrix[pivot], matrix[column]];
    for (let i = column + 1; i < size; i++) {
      const factor = matrix[i][column] / matrix[column][column];
      for (let j = column; j <= size; j++) matrix[i][j] -= factor * matrix[column][j];
    }
  }
  const solution = new Float64Array(size);
  for (let i = size - 1; i >= 0; i--) {
    let sum = matrix[i][size];
    for (let j = i + 1; j < size; j++) sum -= matrix[i][j] * solution[j];
    solution[i] = sum / matrix[i][i];
  }
  return solution;
}

/** How much a reading counts at a distance from the middle, in half widths: falls smoothly to 0 at 1. */
export function taper(distance: number): number {
  const left = 1 - distance * distance;
  return left > 0 ? left * left : 0;
}
