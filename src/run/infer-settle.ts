import { choleskyFactor, normalQuantile, quasiRandomPoints, randomSource } from '../inference/index.ts';
import type { PriorMap } from './infer-priors.ts';

/** How the differences answer to deviations of the parameters, to second order and without cross terms. */
export interface DifferenceResponse {
  readonly centre: Float64Array;
  readonly differences: Float64Array;
  /** One list a parameter. */
  readonly linear: readonly Float64Array[];
  readonly quadratic: readonly Float64Array[];
}

/** The most likely scores, the curvature there, and the response of the differences around them. */
export interface Settled {
  readonly scores: Float64Array;
  /** Lower triangle of the Cholesky factor of the covariance of the scores. */
  readonly factor: Float64Array;
  readonly response: DifferenceResponse;
  readonly settled: boolean;
}

/** Differences at deviations of the parameters, in standard uncertainties; null outside the model's domain. */
export type EvaluateDifferences = (deviations: Float64Array) => Float64Array | null;

const MOST_STEPS = 25;

/** The search ends where the next step is this small in standard deviations of the posterior. */
const SMALL = 1e-3;

/** A search among results that jump a little with the settings, as sampling makes them, ends where it goes to and fro. */
const RESTLESS = 0.3;

/** Step of the differences, in standard deviations of the posterior and at most of the prior: wide against jumps. */
const WIDTH = 0.5;

/**
 * Finds the scores at which the whitened differences and the scores themselves have the least sum of squares, by
 * damped steps of Gauss and Newton; derivatives by central differences over half a standard deviation.
 *
 * @param from where the search begins; in the middle of the prior where left out
 * @returns null where the model cannot be followed at any start
 */
export function settleScores(
  prior: PriorMap,
  evaluate: EvaluateDifferences,
  whiten: (differences: Float64Array) => Float64Array,
  from?: Float64Array,
): Settled | null {
  const m = prior.size;
  const deviations = new Float64Array(m);
  const at = (scores: Float64Array) => {
    prior.toDeviations(scores, deviations);
    const differences = evaluate(deviations);
    return differences?.every(Number.isFinite) === true ? differences : null;
  };
  const costOf = (differences: Float64Array, scores: Float64Array) =>
    sumSquares(whiten(differences)) + sumSquares(scores);
  const start = findStart(from ?? new Float64Array(m), at);
  if (start === null) return null;
  let { scores, differences } = start;
  let cost = costOf(differences, scores);
  let spreads: Float64Array = new Float64Array(m).fill(1);
  let isClose = false;
  for (let round = 0; round < MOST_STEPS; round++) {
    const centre = new Float64Array(m);
    prior.toDeviations(scores, centre);
    const response = respond(evaluate, centre, differences, spreads);
    const slopes = prior.slopes(scores);
    const normal = normalEquations(response, slopes, whiten, scores);
    const factor = choleskyFactor(normal.matrix, m);
    if (factor === null) return null;
    const covariance = invertFromFactor(factor, m);
    const step = Float64Array.from({ length: m }, (_, i) => {
      let sum = 0;
      for (let j = 0; j < m; j++) sum -= covariance[i * m + j] * normal.right[j];
      return sum;
    });
    const size = Math.max(...step.map((value, i) => Math.abs(value) / Math.sqrt(covariance[i * m + i])));
    const widths = spreadsOf(covariance, slopes, m);
    const isResolved = widths.every((width, i) => spreads[i] <= 2 * width + 1e-12);
    spreads = widths;
    let moved: { scores: Float64Array; differences: Float64Array; cost: number } | null = null;
    for (let damping = 1; damping > 1e-3 && moved === null && size > SMALL; damping /= 2) {
      const trial = scores.map((score, i) => score + damping * step[i]);
      const found = at(trial);
      const own = found === null ? Number.POSITIVE_INFINITY : costOf(found, trial);
      if (found !== null && own < cost) moved = { scores: trial, differences: found, cost: own };
    }
    isClose = size <= RESTLESS;
    if (round === MOST_STEPS - 1 || (isResolved && (size <= SMALL || moved === null))) {
      const lower = choleskyFactor(covariance, m);
      if (lower === null) return null;
      return { scores, factor: lower, response, settled: isClose };
    }
    if (moved !== null) ({ scores, differences, cost } = moved);
  }
  return null;
}

/** How many draws of the prior are tried where its middle cannot be followed. */
const STARTS = 64;

/** Where the search begins: at the first guess, or else at the first draw of the prior that can be followed. */
function findStart(
  guess: Float64Array,
  at: (scores: Float64Array) => Float64Array | null,
): { scores: Float64Array; differences: Float64Array } | null {
  const points = quasiRandomPoints(Math.max(guess.length, 1), randomSource(1));
  const point = new Float64Array(Math.max(guess.length, 1));
  let scores = guess;
  for (let draw = 0; draw <= STARTS; draw++) {
    const differences = at(scores);
    if (differences !== null) return { scores, differences };
    points.next(point);
    scores = guess.map((_, i) => normalQuantile(point[i]));
  }
  return null;
}

function sumSquares(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}

/** Where one side leaves the domain the other side alone is taken, with a slope but no curvature. */
function respond(
  evaluate: EvaluateDifferences,
  centre: Float64Array,
  differences: Float64Array,
  spreads: Float64Array,
): DifferenceResponse {
  const linear: Float64Array[] = [];
  const quadratic: Float64Array[] = [];
  const point = Float64Array.from(centre);
  const sound = (values: Float64Array | null) => (values?.every(Number.isFinite) === true ? values : null);
  for (let j = 0; j < centre.length; j++) {
    const step = Math.max(WIDTH * Math.min(spreads[j], 1), 1e-9);
    point[j] = centre[j] + step;
    const above = sound(evaluate(point));
    point[j] = centre[j] - step;
    const below = sound(evaluate(point));
    point[j] = centre[j];
    const slope = new Float64Array(differences.length);
    const curve = new Float64Array(differences.length);
    for (let i = 0; i < slope.length; i++) {
      const middle = differences[i];
      if (above !== null && below !== null) {
        slope[i] = (above[i] - below[i]) / (2 * step);
        curve[i] = (above[i] - 2 * middle + below[i]) / (2 * step * step);
      } else if (above !== null) slope[i] = (above[i] - middle) / step;
      else if (below !== null) slope[i] = (middle - below[i]) / step;
    }
    linear.push(slope);
    quadratic.push(curve);
  }
  return { centre, differences, linear, quadratic };
}

/** JᵀJ + 1 and Jᵀr + scores, J and r whitened, in scores. */
function normalEquations(
  { differences, linear }: DifferenceResponse,
  slopes: Float64Array,
  whiten: (differences: Float64Array) => Float64Array,
  scores: Float64Array,
) {
  const m = scores.length;
  const residuals = whiten(differences);
  const columns = Array.from({ length: m }, (_, j) => {
    const column = new Float64Array(differences.length);
    for (let i = 0; i < m; i++) {
      const slope = slopes[i * m + j];
      if (slope !== 0) for (let row = 0; row < column.length; row++) column[row] += linear[i][row] * slope;
    }
    return whiten(column);
  });
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, row) => sum + value * b[row], 0);
  const matrix = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) matrix[i * m + j] = dot(columns[i], columns[j]) + (i === j ? 1 : 0);
  return { matrix, right: scores.map((score, j) => score + dot(columns[j], residuals)) };
}

/** Standard deviations of the parameters' deviations that a covariance of the scores means. */
function spreadsOf(covariance: Float64Array, slopes: Float64Array, m: number): Float64Array {
  return Float64Array.from({ length: m }, (_, i) => {
    let variance = 0;
    for (let a = 0; a < m; a++)
      for (let b = 0; b < m; b++) variance += slopes[i * m + a] * covariance[a * m + b] * slopes[i * m + b];
    return Math.sqrt(Math.max(variance, 0));
  });
}

/** (L·Lᵀ)⁻¹. */
function invertFromFactor(factor: Float64Array, m: number): Float64Array {
  const inverse = new Float64Array(m * m);
  const column = new Float64Array(m);
  for (let j = 0; j < m; j++) {
    for (let i = 0; i < m; i++) {
      let rest = i === j ? 1 : 0;
      for (let a = 0; a < i; a++) rest -= factor[i * m + a] * column[a];
      column[i] = rest / factor[i * m + i];
    }
    for (let i = m - 1; i >= 0; i--) {
      let rest = column[i];
      for (let a = i + 1; a < m; a++) rest -= factor[a * m + i] * column[a];
      column[i] = rest / factor[i * m + i];
    }
    for (let i = 0; i < m; i++) inverse[i * m + j] = column[i];
  }
  return inverse;
}
