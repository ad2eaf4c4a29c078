/** The weighted design √W·X = Q·R of a fit: Q as k columns of n, R upper triangular. */
export interface TriangularDesign {
  readonly q: readonly Float64Array[];
  /** Covariance of the parameters, R⁻¹·M·R⁻ᵀ·factor, for the covariance M of the k numbers Qᵀ·√W·y. */
  toParameters(covariance: Float64Array, factor: number): Float64Array;
}

/**
 * Q and R of a design with weighted rows, by modified Gram–Schmidt done twice.
 *
 * @param columns k columns of n
 * @param roots   roots of the weights of the n readings
 * Source: L. Giraud, J. Langou, M. Rozložník, Numer. Math. 101 (2005) 87, doi:10.1007/s00211-005-0615-4:
 * twice is enough.
 */
export function orthonormalise(columns: readonly Float64Array[], roots: Float64Array): TriangularDesign {
  const k = columns.length;
  const n = roots.length;
  const q: Float64Array[] = [];
  const r = new Float64Array(k * k);
  columns.forEach((column, j) => {
    const direction = Float64Array.from(column, (value, i) => value * roots[i]);
    for (let round = 0; round < 2; round++) {
      q.forEach((other, m) => {
        let share = 0;
        for (let i = 0; i < n; i++) share += other[i] * direction[i];
        for (let i = 0; i < n; i++) direction[i] -= share * other[i];
        r[m * k + j] += share;
      });
    }
    let square = 0;
    for (const value of direction) square += value * value;
    const length = Math.sqrt(square);
    r[j * k + j] = length;
    q.push(direction.map((value) => value / length));
  });
  return {
    q,
    toParameters(covariance, factor) {
      const inverse = invertUpper(r, k);
      const result = new Float64Array(k * k);
      for (let a = 0; a < k; a++) {
        for (let b = 0; b < k; b++) {
          let sum = 0;
          for (let i = a; i < k; i++) {
            for (let j = b; j < k; j++)
              sum += inverse[a * k + i] * covariance[i * k + j] * inverse[b * k + j];
          }
          result[a * k + b] = sum * factor;
        }
      }
      return result;
    },
  };
}

function invertUpper(r: Float64Array, k: number): Float64Array {
  const inverse = new Float64Array(k * k);
  for (let j = k - 1; j >= 0; j--) {
    inverse[j * k + j] = 1 / r[j * k + j];
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let m = i + 1; m <= j; m++) sum += r[i * k + m] * inverse[m * k + j];
      inverse[i * k + j] = -sum / r[i * k + i];
    }
  }
  return inverse;
}

/** Orthonormal directions that span the given ones; none for those that follow from the ones before. */
export function orthonormalBasis(vectors: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const vector of vectors) {
    const before = Math.sqrt(dot(vector, vector));
    const direction = Float64Array.from(vector);
    for (let round = 0; round < 2; round++) {
      for (const other of basis) {
        const share = dot(other, direction);
        for (let i = 0; i < direction.length; i++) direction[i] -= share * other[i];
      }
    }
    const left = Math.sqrt(dot(direction, direction));
    if (left > 1e-6 * before) basis.push(direction.map((each) => each / left));
  }
  return basis;
}

/** Σ aᵢ·bᵢ. */
export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
