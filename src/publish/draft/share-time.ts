/** Whole tens of seconds by weight that add up to the whole time; what rounding leaves goes to the heaviest. */
export function shareTime(weights: readonly number[], seconds: number): readonly number[] {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const shares = weights.map((weight) => 10 * Math.round((seconds * weight) / sum / 10));
  const heaviest = weights.indexOf(Math.max(...weights));
  const rest = seconds - shares.reduce((total, share) => total + share, 0);
  return shares.map((share, index) => (index === heaviest ? share + rest : share));
}
