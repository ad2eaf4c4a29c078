import { factorMatrix, solveFactored } from './dense-solve.ts';
import { alpha, beta, gamma } from './radau-coefficients.ts';

/** The real and the complex system of the implicit method for one step length, factored. */
export interface NewtonSystems {
  readonly n: number;
  readonly real: Float64Array;
  readonly realPivots: Int32Array;
  /** The complex system as one of twice the size in real numbers. */
  readonly pair: Float64Array;
  readonly pairPivots: Int32Array;
}

export function createNewtonSystems(n: number): NewtonSystems {
  return {
    n,
    real: new Float64Array(n * n),
    realPivots: new Int32Array(n),
    pair: new Float64Array(4 * n * n),
    pairPivots: new Int32Array(2 * n),
  };
}

/** Factors γ/h − J and (α + iβ)/h − J; false where one is singular. */
export function factorSystems(systems: NewtonSystems, jacobian: Float64Array, h: number): boolean {
  const { n, real, pair } = systems;
  const width = 2 * n;
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const entry = -jacobian[i * n + k];
      const diagonal = i === k ? 1 / h : 0;
      real[i * n + k] = entry + gamma * diagonal;
      pair[i * width + k] = entry + alpha * diagonal;
      pair[(n + i) * width + n + k] = entry + alpha * diagonal;
      pair[i * width + n + k] = -beta * diagonal;
      pair[(n + i) * width + k] = beta * diagonal;
    }
  }
  return factorMatrix(real, n, systems.realPivots) && factorMatrix(pair, width, systems.pairPivots);
}

export function solveReal(systems: NewtonSystems, right: Float64Array): void {
  solveFactored(systems.real, systems.n, systems.realPivots, right);
}

/** @param right 2n: the real parts, then the imaginary parts */
export function solvePair(systems: NewtonSystems, right: Float64Array): void {
  solveFactored(systems.pair, 2 * systems.n, systems.pairPivots, right);
}
