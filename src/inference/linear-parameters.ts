import type { Evaluate } from './objective.ts';

/**
 * Which parameters enter a model linearly, all together: found by asking whether their columns of the Jacobian
 * change when they do.
 *
 * @param at finite parameters at which the model is defined
 * @returns indices in rising order, often not all that could be chosen: a·b is linear in a or in b
 * Costs up to 2k + 1 evaluations of the Jacobian.
 */
export function findLinearParameters(evaluate: Evaluate, n: number, at: Float64Array): readonly number[] {
  const k = at.length;
  const values = new Float64Array(n);
  const plain = Array.from({ length: k }, () => new Float64Array(n));
  const moved = Array.from({ length: k }, () => new Float64Array(n));
  evaluate(at, values, plain);
  const areLinear = (chosen: readonly number[]): boolean => {
    const point = at.slice();
    // Unequal, unround moves of either sign, so that no symmetry of the model hides a dependence.
    for (const j of chosen)
      point[j] = at[j] * (1.37 + 0.11 * j) + (j % 2 === 0 ? 0.73 : -0.61) * (1 + 0.1 * j);
    evaluate(point, values, moved);
    return chosen.every((j) => sameColumn(plain[j], moved[j]));
  };
  const linear: number[] = [];
  for (let j = 0; j < k; j += 1) {
    if (areLinear([j]) && (linear.length === 0 || areLinear([...linear, j]))) linear.push(j);
  }
  return linear;
}

function sameColumn(a: Float64Array, b: Float64Array): boolean {
  let size = 0;
  for (const value of a) size = Math.max(size, Math.abs(value));
  if (!(size > 0 && size < Number.POSITIVE_INFINITY)) return false;
  return a.every((value, i) => Math.abs(value - b[i]) <= 1e-11 * size);
}
