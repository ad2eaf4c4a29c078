import { chiSquareProbability } from '../inference/index.ts';
import { exp, ln } from '../wasm/index.ts';
import type { RunGroup } from './groups.ts';
import { intoDirections, type Scatter } from './infer-scatter.ts';

/** Logarithm of the likelihood of differences predicted − measured, groups × scalars, up to a constant. */
export type LogLikelihood = (difference: Float64Array) => number;

/**
 * What is taken of the scatter beforehand: it is the rehearsed one or larger, one as likely as the other, and if larger
 * then by a factor up to this, every order of magnitude of the variance alike. Our own choice, judged by coverage.
 */
const LARGEST = 100;

/**
 * The likelihood of the runs' means where their scatter is known only from the runs, and from rehearsal as the least
 * that it can be.
 *
 * In each direction the variance w of a run, 1 as rehearsed, is integrated over: half the weight lies at 1, half above
 * with the density 1/w. With c the sum of squares of all runs around the model and N their number, the two parts are
 * exp(−c/2) and, up to a constant, c^(−N/2) · P(χ² ≤ c, N degrees of freedom). Runs that scatter far more than rehearsed
 * give Student's distribution with the degrees of freedom of their scatter; runs that scatter as rehearsed, or by luck
 * less, the normal one of the rehearsed scatter. A single run a setting shows no scatter: its likelihood is the normal one.
 *
 * Source: Box and Tiao, Bayesian Inference in Statistical Analysis, Wiley 1973, 2.3 and 5.2 (variances known in order)
 */
export function likelihoodOf(scatter: Scatter, groups: readonly RunGroup[]): LogLikelihood {
  const { squares, degreesOfFreedom } = scatter;
  const k = squares.length;
  const runs = degreesOfFreedom + groups.length;
  return (difference) => {
    const directions = intoDirections(scatter, groups, difference);
    let logarithm = 0;
    for (let i = 0; i < k; i++) {
      let sum = squares[i];
      for (let group = 0; group < groups.length; group++) sum += directions[group * k + i] ** 2;
      logarithm += degreesOfFreedom === 0 ? -sum / 2 : logOfDirection(sum, runs);
    }
    return logarithm;
  };
}

function logOfDirection(sum: number, runs: number): number {
  const asRehearsed = -sum / 2;
  const larger = logOfLarger(sum, runs) - ln((runs / 2) * ln(LARGEST));
  const most = Math.max(asRehearsed, larger);
  return most + ln(exp(asRehearsed - most) + exp(larger - most));
}

/** ln of Γ(a + 1)·(c/2)^(−a)·P(χ² ≤ c), a = N/2: 0 for c = 0, where the first terms of its series are exact enough. */
function logOfLarger(sum: number, runs: number): number {
  const half = sum / 2;
  const a = runs / 2;
  if (half < 1e-3 * a) return (-half * a) / (a + 1);
  return ln(chiSquareProbability(sum, runs)) - a * ln(half) + logGammaOfHalf(runs + 2);
}

/** ln Γ(n/2) for a whole number n ≥ 1. */
function logGammaOfHalf(n: number): number {
  let logarithm = n % 2 === 0 ? 0 : ln(Math.PI) / 2;
  for (let x = n % 2 === 0 ? 1 : 0.5; x < n / 2; x++) logarithm += ln(x);
  return logarithm;
}
