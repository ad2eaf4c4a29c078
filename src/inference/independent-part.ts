import { makeTriangle, solveTriangle, type Triangle, triangularise, turn } from './householder.ts';

/** A column takes part in imitating another where it makes up this share of it. */
const PART = 1e-6;

/** What of a Jacobian can be told apart. */
export interface IndependentPart {
  /** Of the Jacobian with the columns of held and idle parameters left out. */
  readonly triangle: Triangle;
  /** Indices of the parameters that the triangle stands for. */
  readonly free: readonly number[];
  /** Parameters that no reading depends on, or that others imitate to the last digits. */
  readonly idle: readonly number[];
  /** Free parameters that take part in imitating an idle one: alone they are as unknown as it is. */
  readonly imitating: readonly number[];
}

/**
 * Triangularises the columns that are not held, leaving out those that the others imitate.
 *
 * @param entangled share of its length below which what is left of a column counts as nothing
 */
export function independentPart(
  jacobian: readonly Float64Array[],
  held: readonly number[],
  entangled: number,
): IndependentPart {
  const idle: number[] = [];
  for (;;) {
    const free = jacobian.map((_, j) => j).filter((j) => !held.includes(j) && !idle.includes(j));
    const columns = free.map((j) => jacobian[j].slice());
    const triangle = triangularise(columns, makeTriangle(columns));
    const lost = free.find(
      (_, index) => !(Math.abs(triangle.diagonal[index]) > entangled * triangle.norms[index]),
    );
    if (lost === undefined) {
      const imitating = free.filter((_, index) =>
        idle.some((j) => shareOf(index, triangle, jacobian[j]) > PART),
      );
      return { triangle, free, idle, imitating };
    }
    idle.push(lost);
  }
}

/** How much of a column that the others make up one of them contributes. */
function shareOf(index: number, triangle: Triangle, column: Float64Array): number {
  let squares = 0;
  for (const value of column) squares += value * value;
  const size = Math.sqrt(squares);
  if (size === 0) return 0;
  const turned = column.slice();
  turn(triangle, turned);
  const parts = new Float64Array(triangle.norms.length);
  solveTriangle(triangle, turned, parts, 0);
  return (Math.abs(parts[index]) * triangle.norms[index]) / size;
}
