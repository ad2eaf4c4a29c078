/** The triangular factor of a matrix of n rows and k columns, with the reflections that lead to it. */
export interface Triangle {
  /** k columns of n: above the diagonal the factor R, from the diagonal down the reflector. */
  readonly columns: readonly Float64Array[];
  /** Diagonal of R, k values. */
  readonly diagonal: Float64Array;
  /** Half the square of each reflector's length; 0 where the column was zero. */
  readonly halfSquares: Float64Array;
  /** Length of each column as it was given. */
  readonly norms: Float64Array;
}

/**
 * Householder triangularisation in place.
 *
 * @param columns k columns of n ≥ k values; overwritten
 * Source: Golub, Numer. Math. 7 (1965) 206–216
 */
export function triangularise(columns: readonly Float64Array[], into: Triangle): Triangle {
  const { diagonal, halfSquares, norms } = into;
  for (let j = 0; j < columns.length; j += 1) {
    const column = columns[j];
    let whole = 0;
    for (let i = 0; i < column.length; i += 1) whole += column[i] * column[i];
    norms[j] = Math.sqrt(whole);
    for (let i = 0; i < j; i += 1) reflect(columns[i], i, halfSquares[i], column);
    let square = 0;
    for (let i = j; i < column.length; i += 1) square += column[i] * column[i];
    const norm = Math.sqrt(square);
    const head = column[j];
    diagonal[j] = head > 0 ? -norm : norm;
    column[j] = head - diagonal[j];
    halfSquares[j] = norm * (norm + Math.abs(head));
  }
  return into;
}

/** Applies all reflections to a vector of n: its first k entries are then the right side of R·solution. */
export function turn(triangle: Triangle, vector: Float64Array): void {
  for (let j = 0; j < triangle.columns.length; j += 1)
    reflect(triangle.columns[j], j, triangle.halfSquares[j], vector);
}

function reflect(reflector: Float64Array, from: number, halfSquare: number, vector: Float64Array): void {
  if (halfSquare === 0) return;
  let sum = 0;
  for (let i = from; i < vector.length; i += 1) sum += reflector[i] * vector[i];
  const factor = sum / halfSquare;
  for (let i = from; i < vector.length; i += 1) vector[i] -= factor * reflector[i];
}

/**
 * Solves R·solution = right by substitution. A parameter whose column is, but for `tolerance` of its length, made
 * of those before it gets 0.
 */
export function solveTriangle(
  triangle: Triangle,
  right: Float64Array,
  solution: Float64Array,
  tolerance: number,
): void {
  const { columns, diagonal, norms } = triangle;
  for (let i = columns.length - 1; i >= 0; i -= 1) {
    let sum = right[i];
    for (let j = i + 1; j < columns.length; j += 1) sum -= columns[j][i] * solution[j];
    solution[i] = Math.abs(diagonal[i]) > tolerance * norms[i] ? sum / diagonal[i] : 0;
  }
}

/** (RᵀR)⁻¹, k×k row-major. */
export function invertGram(triangle: Triangle): Float64Array {
  const { columns, diagonal } = triangle;
  const k = columns.length;
  const inverse = new Float64Array(k * k);
  for (let j = 0; j < k; j += 1) {
    inverse[j * k + j] = 1 / diagonal[j];
    for (let i = j - 1; i >= 0; i -= 1) {
      let sum = 0;
      for (let m = i + 1; m <= j; m += 1) sum += columns[m][i] * inverse[m * k + j];
      inverse[i * k + j] = -sum / diagonal[i];
    }
  }
  const gram = new Float64Array(k * k);
  for (let i = 0; i < k; i += 1) {
    for (let j = i; j < k; j += 1) {
      let sum = 0;
      for (let m = j; m < k; m += 1) sum += inverse[i * k + m] * inverse[j * k + m];
      gram[i * k + j] = sum;
      gram[j * k + i] = sum;
    }
  }
  return gram;
}

/** A triangle over the given columns, its other parts yet to be filled. */
export function makeTriangle(columns: readonly Float64Array[]): Triangle {
  return {
    columns,
    diagonal: new Float64Array(columns.length),
    halfSquares: new Float64Array(columns.length),
    norms: new Float64Array(columns.length),
  };
}
