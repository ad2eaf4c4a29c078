import { fail, type Outcome, type Place, type Problem, problem } from '../problem/index.ts';
import { checkReadings, parameterNames } from './check-readings.ts';
import type { Limits } from './damped-search.ts';
import type { Fit, FitOptions } from './fit.ts';
import { reportFit } from './fit-report.ts';
import { type Evaluate, Objective } from './objective.ts';
import { type LossName, lossOf, medianScale } from './robust-loss.ts';
import { type Found, searchAll } from './search-paths.ts';
import { type Settled, settle } from './settle.ts';

export interface NonlinearProblem extends FitOptions {
  /** n readings, finite. For residuals of one's own making: zeros, with `evaluate` giving minus the residuals. */
  readonly y: ArrayLike<number>;
  /** Model values and their derivatives. */
  readonly evaluate: Evaluate;
  /** k values, where the search starts; moved on to the nearest bound where outside. */
  readonly start: ArrayLike<number>;
  /** Lowest and highest value of each parameter, k pairs; infinite where free. */
  readonly bounds?: readonly (readonly [number, number])[];
  /**
   * 'squares' unless stated. With 'huber' or 'cauchy' strays count less; the scale is the stated uncertainty, or
   * follows from the median residual; the uncertainties then come from the scatter (Huber 1981, equation 7.6.4).
   */
  readonly loss?: LossName;
  /**
   * 'thorough' (default): several searches from the start, the best of which counts. 'single': one search, for
   * starts known to be near.
   */
  readonly effort?: 'thorough' | 'single';
  /**
   * Residuals y − value, n values, not weighted, computed with more digits than a double has and then rounded:
   * asked for only where the model fits its readings to six digits or more. See prepareResiduals.
   */
  readonly preciseResiduals?: (parameters: Float64Array, residuals: Float64Array) => void;
  /** Evaluations of the model that one search may take; 2000 unless stated. */
  readonly mostEvaluations?: number;
  readonly signal?: { readonly aborted: boolean };
}

/** A step left to go that is this small, in standard uncertainties, counts as none. */
const CONVERGED = 1e-6;

/**
 * Nonlinear least squares: the parameters at which Σ ((y − model)/u)² is least.
 *
 * @returns parameters in their own units; uncertainties NaN at a bound, infinite without influence
 * Fails with 'too-few-readings', 'not-finite', 'zero-weight', 'outside-domain' (the model has no finite value at
 * the start), 'not-converged' (saying what to try), 'aborted'. Warns 'at-bound', 'no-influence',
 * 'ill-conditioned'.
 * Method: Levenberg–Marquardt with second-order correction, variable projection where parameters enter linearly,
 * final Gauss–Newton steps to the limit of rounding; sources in damped-search.ts
 */
export function fitNonlinear(given: NonlinearProblem): Outcome<Fit> {
  const place = given.place ?? { step: 'nonlinear fit' };
  const k = given.start.length;
  const names = parameterNames(k, given.names);
  const weighting = checkReadings(
    `a fit of ${k} parameter${k === 1 ? '' : 's'}`,
    k,
    [{ name: 'y', values: given.y }],
    given,
    place,
  );
  if (!weighting.ok) return weighting;
  const limits = limitsOf(given.bounds, k);
  const start = Float64Array.from(given.start, (value, j) =>
    Math.min(limits.high[j], Math.max(limits.low[j], value)),
  );
  const bad = start.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    return fail(
      problem(
        'not-finite',
        place,
        `The start of ${names[bad]} is ${start[bad]}; it must be a finite number.`,
      ),
    );
  }
  const y = Float64Array.from(given.y);
  const robust = given.loss !== undefined && given.loss !== 'squares';
  const search = (objective: Objective, from: Float64Array): Found =>
    searchAll(objective, given.evaluate, from, {
      limits,
      mostEvaluations: given.mostEvaluations ?? 2000,
      effort: given.effort ?? 'thorough',
      signal: given.signal,
    });

  let objective = new Objective(given.evaluate, y, weighting.value.uy, k, lossOf('squares'));
  let found = search(objective, start);
  if (found.kind === 'found' && robust) {
    objective = new Objective(given.evaluate, y, weighting.value.uy, k, lossOf(given.loss ?? 'squares'));
    found = searchRobust(objective, found.parameters, weighting.value.uncertaintyFrom, search);
  }
  if (found.kind === 'outside-domain') {
    return fail(
      problem(
        'outside-domain',
        place,
        `At the start (${describe(names, start)}) the model or its derivative is not a finite number.`,
        'Start from values at which the expression can be computed for every reading.',
      ),
    );
  }
  if (found.kind === 'aborted')
    return fail(problem('aborted', place, 'The fit was stopped before it had settled.'));
  const settled = settle(objective, found.parameters, limits, given.preciseResiduals);
  if (!hasConverged(settled, y.length)) return fail(notConverged(names, settled, place));
  return reportFit({ objective, settled, weighting: weighting.value, robust, names, limits, place });
}

/** Alternates between the robust fit and the scale of its residuals, unless the scale is stated. */
function searchRobust(
  objective: Objective,
  from: Float64Array,
  uncertaintyFrom: 'scatter' | 'stated',
  search: (objective: Objective, from: Float64Array) => Found,
): Found {
  if (uncertaintyFrom === 'stated') return search(objective, from);
  const residuals = new Float64Array(objective.n);
  let parameters = from;
  for (let round = 0; ; round += 1) {
    objective.at(parameters, residuals, null);
    const scale = medianScale(residuals);
    // Half of the readings fitted exactly: no scale is left, and plain residuals serve.
    if (!(scale > 0)) return { kind: 'found', parameters };
    const same = Math.abs(scale - objective.scale) <= 1e-9 * scale;
    if (same || round === 50) return { kind: 'found', parameters };
    objective.scale = scale;
    const found = search(objective, parameters);
    if (found.kind !== 'found') return found;
    parameters = found.parameters;
  }
}

function limitsOf(bounds: NonlinearProblem['bounds'], k: number): Limits {
  const low = new Float64Array(k).fill(Number.NEGATIVE_INFINITY);
  const high = new Float64Array(k).fill(Number.POSITIVE_INFINITY);
  bounds?.forEach(([lowest, highest], j) => {
    if (!(lowest < highest))
      throw new RangeError(`Bounds of parameter ${j + 1}: ${lowest} is not below ${highest}.`);
    low[j] = lowest;
    high[j] = highest;
  });
  return { low, high };
}

/** Whether the step left to go is nothing, against the uncertainty or against the digits of a double. */
function hasConverged(settled: Settled, n: number): boolean {
  const { triangle, free, lastStep, parameters, cost } = settled;
  let size = 0;
  for (let i = 0; i < free.length; i += 1) {
    let image = triangle.diagonal[i] * lastStep[free[i]];
    for (let j = i + 1; j < free.length; j += 1) image += triangle.columns[j][i] * lastStep[free[j]];
    size += image * image;
  }
  const perFreedom = cost / Math.max(1, n - free.length);
  if (size <= CONVERGED * CONVERGED * perFreedom) return true;
  return free.every((j) => Math.abs(lastStep[j]) <= 1e-10 * Math.abs(parameters[j]) + 1e-300);
}

function notConverged(names: readonly string[], settled: Settled, place: Place): Problem {
  return problem(
    'not-converged',
    place,
    `The fit did not settle; the best values met are ${describe(names, settled.parameters)}.`,
    'Start from other values, bound the parameters, or hold one of them: two that do almost the same keep a fit from settling.',
  );
}

function describe(names: readonly string[], values: Float64Array): string {
  return names.map((name, j) => `${name} = ${Number(values[j].toPrecision(6))}`).join(', ');
}
