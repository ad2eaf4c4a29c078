import { normalProbability, prepareDraws } from '../inference/index.ts';
import type { BaseQuantity, Lab } from '../lab/index.ts';

/**
 * What was known before, as a map: independent standard normal scores to deviations of the parameters, m of each, in
 * their standard uncertainties. Every parameter keeps its own distribution, and the stated correlations hold.
 */
export interface PriorMap {
  readonly size: number;
  toDeviations(scores: Float64Array, deviations: Float64Array): void;
  /** ∂deviation_i/∂score_j at the scores, m × m, row-major. */
  slopes(scores: Float64Array): Float64Array;
}

/** Step of the central differences of the map, in scores. */
const STEP = 1e-3;

/** Scores beyond this have a probability that rounds to 0 or 1. */
const FARTHEST = 8;

/** The map for the parameters of an inference; what is stated of a lab's own estimates correlates no others. */
export function mapPriors(lab: Lab, parameters: readonly BaseQuantity[]): PriorMap {
  const own = new Set(lab.quantities.base);
  const placeOf = new Map(
    parameters.flatMap((quantity, place) => (own.has(quantity) ? [[quantity.index, place] as const] : [])),
  );
  const correlations = lab.correlations.flatMap(({ between: [first, second], is }) => {
    const a = placeOf.get(first);
    const b = placeOf.get(second);
    return a === undefined || b === undefined ? [] : [{ between: [a, b] as const, is }];
  });
  const estimates = parameters.map(({ estimate }) => estimate);
  const prepared = prepareDraws(estimates, correlations, { file: lab.file, step: 'infer' });
  if (!prepared.ok)
    throw new TypeError('correlations that cannot all be true are refused when a lab is read');
  const size = parameters.length;
  const point = new Float64Array(size);
  const toDeviations = (scores: Float64Array, deviations: Float64Array): void => {
    for (let at = 0; at < size; at++)
      point[at] = normalProbability(Math.min(Math.max(scores[at], -FARTHEST), FARTHEST));
    prepared.value.place(point, point);
    for (let at = 0; at < size; at++) {
      const { value, standardUncertainty } = estimates[at];
      deviations[at] = (point[at] - value) / standardUncertainty;
    }
  };
  return {
    size,
    toDeviations,
    slopes(scores) {
      const slopes = new Float64Array(size * size);
      const moved = Float64Array.from(scores);
      const above = new Float64Array(size);
      const below = new Float64Array(size);
      for (let j = 0; j < size; j++) {
        moved[j] = scores[j] + STEP;
        toDeviations(moved, above);
        moved[j] = scores[j] - STEP;
        toDeviations(moved, below);
        moved[j] = scores[j];
        for (let i = 0; i < size; i++) slopes[i * size + j] = (above[i] - below[i]) / (2 * STEP);
      }
      return slopes;
    },
  };
}
