import { hypotenuse } from '../wasm/index.ts';
/** Eigenvalues and eigenvectors of a symmetric matrix. */
export interface SymmetricEigenvectors {
  readonly values: Float64Array;
  /** k × k, row-major: column j is the unit vector of value j. */
  readonly vectors: Float64Array;
}

const MOST_SWEEPS = 50;

/**
 * Eigenvectors of a small symmetric matrix by Jacobi's rotations, each accurate to rounding.
 *
 * @param matrix k × k, row-major, finite
 * Source: Golub and Van Loan, Matrix Computations, 4th edition 2013, 8.5
 */
export function symmetricEigenvectors(matrix: Float64Array, k: number): SymmetricEigenvectors {
  const a = Float64Array.from(matrix);
  const vectors = new Float64Array(k * k);
  for (let i = 0; i < k; i++) vectors[i * k + i] = 1;
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let isDiagonal = true;
    for (let p = 0; p < k; p++) {
      for (let q = p + 1; q < k; q++) {
        const off = a[p * k + q];
        if (Math.abs(off) <= 1e-16 * Math.sqrt(Math.abs(a[p * k + p] * a[q * k + q]))) continue;
        isDiagonal = false;
        const tau = (a[q * k + q] - a[p * k + p]) / (2 * off);
        const t = (tau < 0 ? -1 : 1) / (Math.abs(tau) + hypotenuse(1, tau));
        const c = 1 / hypotenuse(1, t);
        rotate(a, vectors, k, p, q, c, t * c);
      }
    }
    if (isDiagonal) break;
  }
  return { values: Float64Array.from({ length: k }, (_, i) => a[i * k + i]), vectors };
}

function rotate(
  a: Float64Array,
  vectors: Float64Array,
  k: number,
  p: number,
  q: number,
  c: number,
  s: number,
): void {
  for (let i = 0; i < k; i++) {
    const left = a[i * k + p];
    const right = a[i * k + q];
    a[i * k + p] = c * left - s * right;
    a[i * k + q] = s * left + c * right;
    const first = vectors[i * k + p];
    const second = vectors[i * k + q];
    vectors[i * k + p] = c * first - s * second;
    vectors[i * k + q] = s * first + c * second;
  }
  for (let i = 0; i < k; i++) {
    const upper = a[p * k + i];
    const lower = a[q * k + i];
    a[p * k + i] = c * upper - s * lower;
    a[q * k + i] = s * upper + c * lower;
  }
}
