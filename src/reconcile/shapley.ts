/**
 * The share of each effect in a change that several effects make together.
 *
 * An effect's share is its mean contribution over every order in which the effects can be switched on, so no order
 * is privileged and the shares add up exactly to `values[all on] − values[all off]`.
 *
 * @param values one value for each subset of k effects, 2^k in all; bit i of the index says that effect i is on
 * @param effects k, 0 to 20
 * @param shares receives k values, in the unit of `values`
 * Source: L. S. Shapley, A value for n-person games, in Contributions to the Theory of Games II (1953) 307
 */
export function shapleyShares(values: Float64Array, effects: number, shares: Float64Array): void {
  const weights = stepWeights(effects);
  shares.fill(0, 0, effects);
  for (let subset = 0; subset < 1 << effects; subset++) {
    const weight = weights[countOnes(subset)];
    for (let effect = 0; effect < effects; effect++) {
      if ((subset & (1 << effect)) === 0) {
        shares[effect] += weight * (values[subset | (1 << effect)] - values[subset]);
      }
    }
  }
}

const weightTables = new Map<number, Float64Array>();

/**
 * Weights of the steps from a subset of s effects to one of s + 1, by s: s! (k − s − 1)! / k!, the share of orders
 * that take it.
 */
export function stepWeights(effects: number): Float64Array {
  const known = weightTables.get(effects);
  if (known !== undefined) return known;
  const weights = new Float64Array(effects + 1);
  for (let size = 0; size < effects; size++) {
    weights[size] = 1 / (effects * binomial(effects - 1, size));
  }
  weightTables.set(effects, weights);
  return weights;
}

function binomial(n: number, k: number): number {
  let value = 1;
  for (let i = 1; i <= k; i++) value = (value * (n - k + i)) / i;
  return value;
}

function countOnes(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count++;
  return count;
}
