import type { RandomSource } from '../inference/index.ts';
import { hypotenuse } from '../wasm/index.ts';

/**
 * n orthonormal directions, turned at random: rows of the reflection I − 2·w·wᵀ of a random unit vector w.
 *
 * Directions that are dense in the limit keep a search from being caught at a slanting limit, where all directions
 * along the axes lead outside.
 *
 * Source of the idea: C. Audet and J. E. Dennis, SIAM J. Optim. 17 (2006) 188, doi:10.1137/040603371; orthogonal
 * directions by a reflection: M. A. Abramson et al., SIAM J. Optim. 20 (2009) 948, doi:10.1137/080716980
 */
export function pollDirections(n: number, random: RandomSource): readonly Float64Array[] {
  const w = Float64Array.from({ length: n }, () => random.normal());
  const length = hypotenuse(...w);
  return Array.from({ length: n }, (_, row) =>
    Float64Array.from({ length: n }, (_, column) => {
      const reflected = length > 0 ? (2 * w[row] * w[column]) / length ** 2 : 0;
      return (row === column ? 1 : 0) - reflected;
    }),
  );
}
