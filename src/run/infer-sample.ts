import { normalQuantile, quasiRandomPoints, randomSource } from '../inference/index.ts';
import { exp, ln, lnOfOneMore } from '../wasm/index.ts';
import type { LogLikelihood } from './infer-likelihood.ts';
import type { PriorMap } from './infer-priors.ts';
import type { DifferenceResponse, Settled } from './infer-settle.ts';

/** What the trials leave of the parameters' deviations, in standard uncertainties of the priors. */
export interface Posterior {
  readonly means: Float64Array;
  /** m × m. */
  readonly covariance: Float64Array;
  /** Quantiles of 2.5 % and 97.5 % of each. */
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** As many independent draws as would know the posterior as well. */
  readonly effectiveDraws: number;
  /** ln of the likelihood's mean over what was known before, with the constant that the likelihood leaves out. */
  readonly logEvidence: number;
}

/** Widths of the two normal distributions that are drawn from, over that of the approximation, and the share of the wide one. */
const NARROW = 1.1;
const WIDE = 1.8;
const SHARE_OF_WIDE = 0.25;

/**
 * The posterior from weighted draws: scores are drawn around the most likely ones, and each draw counts by prior and
 * likelihood over the density it was drawn with. The differences follow their second-order response, so no model is
 * run; draws are quasi-random and come in pairs on both sides. The weights' mean is the evidence.
 *
 * Source: Owen, Monte Carlo Theory, Methods and Examples, chapter 9 (importance sampling, self-normalised and not, from
 * mixtures)
 */
export function samplePosterior(
  prior: PriorMap,
  { scores: centre, factor, response }: Settled,
  logLikelihood: LogLikelihood,
  pairs: number,
): Posterior {
  const m = prior.size;
  const points = quasiRandomPoints(m + 1, randomSource(1));
  const point = new Float64Array(m + 1);
  const table = new Float64Array(2 * pairs * m);
  const logWeights = new Float64Array(2 * pairs);
  const scores = new Float64Array(m);
  const differences = new Float64Array(response.differences.length);
  for (let pair = 0; pair < pairs; pair++) {
    points.next(point);
    const width = point[m] < SHARE_OF_WIDE ? WIDE : NARROW;
    const normal = point.subarray(0, m).map((p) => width * normalQuantile(p));
    const distance = normal.reduce((sum, z) => sum + z * z, 0);
    for (const sign of [1, -1]) {
      const draw = 2 * pair + (sign === 1 ? 0 : 1);
      for (let i = 0; i < m; i++) {
        let sum = centre[i];
        for (let j = 0; j <= i; j++) sum += sign * factor[i * m + j] * normal[j];
        scores[i] = sum;
      }
      const deviations = table.subarray(draw * m, (draw + 1) * m);
      prior.toDeviations(scores, deviations);
      follow(response, deviations, differences);
      const squares = scores.reduce((sum, score) => sum + score * score, 0);
      logWeights[draw] = logLikelihood(differences) - squares / 2 - logProposal(distance, m);
    }
  }
  // The draws' density has the determinant of the factor below it.
  let logEvidence = logMean(logWeights);
  for (let i = 0; i < m; i++) logEvidence += ln(factor[i * m + i]);
  return { ...summarise(table, logWeights, m), logEvidence };
}

/** ln of the mean of numbers whose logarithms are given. */
function logMean(logarithms: Float64Array): number {
  const most = logarithms.reduce((max, value) => Math.max(max, value), Number.NEGATIVE_INFINITY);
  const sum = logarithms.reduce((total, value) => total + exp(value - most), 0);
  return most + ln(sum / logarithms.length);
}

/** Differences by their response. */
function follow(
  { centre, differences, linear, quadratic }: DifferenceResponse,
  deviations: Float64Array,
  into: Float64Array,
): void {
  into.set(differences);
  for (let j = 0; j < centre.length; j++) {
    const step = deviations[j] - centre[j];
    for (let row = 0; row < into.length; row++)
      into[row] += step * (linear[j][row] + step * quadratic[j][row]);
  }
}

/** Logarithm of the density of the mixture at a squared distance in standard deviations, up to a constant. */
function logProposal(distance: number, m: number): number {
  const part = (width: number) => -distance / (2 * width * width) - m * ln(width);
  const narrow = ln(1 - SHARE_OF_WIDE) + part(NARROW);
  const wide = ln(SHARE_OF_WIDE) + part(WIDE);
  return Math.max(narrow, wide) + lnOfOneMore(exp(-Math.abs(narrow - wide)));
}

function summarise(table: Float64Array, logWeights: Float64Array, m: number): Omit<Posterior, 'logEvidence'> {
  const most = logWeights.reduce((max, value) => Math.max(max, value), Number.NEGATIVE_INFINITY);
  const weights = logWeights.map((value) => (Number.isFinite(value) ? exp(value - most) : 0));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  let squares = 0;
  for (let draw = 0; draw < weights.length; draw++) {
    weights[draw] /= total;
    squares += weights[draw] ** 2;
  }
  const means = new Float64Array(m);
  for (const [draw, weight] of weights.entries())
    for (let i = 0; i < m; i++) means[i] += weight * table[draw * m + i];
  const covariance = new Float64Array(m * m);
  for (const [draw, weight] of weights.entries()) {
    for (let i = 0; i < m; i++) {
      const own = weight * (table[draw * m + i] - means[i]);
      for (let j = 0; j <= i; j++) covariance[i * m + j] += own * (table[draw * m + j] - means[j]);
    }
  }
  const low = new Float64Array(m);
  const high = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < i; j++) covariance[j * m + i] = covariance[i * m + j];
    const column = Float64Array.from(weights, (_, draw) => table[draw * m + i]);
    const order = Array.from(column.keys()).sort((a, b) => column[a] - column[b]);
    low[i] = weightedQuantile(column, weights, order, 0.025);
    high[i] = weightedQuantile(column, weights, order, 0.975);
  }
  return { means, covariance, low, high, effectiveDraws: 1 / squares };
}

/** The value below which the share `p` of the weight lies; between two draws in step with the weight. */
function weightedQuantile(
  values: Float64Array,
  weights: Float64Array,
  order: readonly number[],
  p: number,
): number {
  let before = 0;
  let last = order[0];
  for (const draw of order) {
    const middle = before + weights[draw] / 2;
    if (middle >= p) {
      const from = before - weights[last] / 2;
      const share = draw === last || middle === from ? 1 : (p - from) / (middle - from);
      return values[last] + Math.min(Math.max(share, 0), 1) * (values[draw] - values[last]);
    }
    before += weights[draw];
    last = draw;
  }
  return values[last];
}
