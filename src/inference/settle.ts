import type { Limits } from './damped-search.ts';
import { makeTriangle, solveTriangle, type Triangle, triangularise, turn } from './householder.ts';
import { type IndependentPart, independentPart } from './independent-part.ts';
import type { Objective } from './objective.ts';

/** The end of a fit: the parameters as far as rounding lets them be known, and the linearisation there. */
export interface Settled extends IndependentPart {
  readonly parameters: Float64Array;
  /** Weighted residuals, n values. */
  readonly residuals: Float64Array;
  readonly cost: number;
  /** Parameters at a limit that the readings push against. */
  readonly held: readonly number[];
  /** The last step, k values; what is left to go is no more than about that. */
  readonly lastStep: Float64Array;
}

const MOST_ROUNDS = 200;
/** Rounds without a clear gain before rounding is taken to have been reached. */
const MOST_IDLE = 4;
const ENTANGLED = 1e-13;

/**
 * Gauss–Newton steps from a minimum found by a search to where rounding stops them.
 *
 * @param preciseResiduals unweighted residuals y − value computed with more digits than doubles carry and then
 * rounded; without it those of the objective serve, which are good unless the model fits to about 1e-12
 */
export function settle(
  objective: Objective,
  start: Float64Array,
  limits: Limits,
  preciseResiduals?: (parameters: Float64Array, residuals: Float64Array) => void,
): Settled {
  const { n, k } = objective;
  const jacobian = Array.from({ length: k }, () => new Float64Array(n));
  const residuals = new Float64Array(n);
  let parameters = start.slice();
  let best: Settled | null = null;
  let bestSize = Number.POSITIVE_INFINITY;
  let worse = 0;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    let cost = objective.at(parameters, residuals, jacobian);
    if (cost === Number.POSITIVE_INFINITY) break;
    const precise = preciseResiduals !== undefined && objective.isCloseToRounding(cost);
    if (precise) {
      preciseResiduals(parameters, residuals);
      objective.weigh(residuals);
      cost = objective.costOf(residuals);
    }
    const right = residuals.slice();
    objective.reweight(right, jacobian);
    const held = heldParameters(parameters, limits, jacobian, right);
    const { triangle, free, idle, imitating } = independentPart(jacobian, held, ENTANGLED);
    turn(triangle, right);
    const solution = new Float64Array(free.length);
    solveTriangle(triangle, right, solution, 0);
    const step = new Float64Array(k);
    free.forEach((j, index) => {
      step[j] = solution[index];
    });
    let size = 0;
    for (let i = 0; i < free.length; i += 1) size += right[i] * right[i];
    const after = residuals.slice();
    // A step below the last digit of the parameters can still be taken in the residuals.
    if (precise) for (const j of free) for (let i = 0; i < n; i += 1) after[i] -= jacobian[j][i] * step[j];
    const now: Settled = {
      parameters: parameters.slice(),
      residuals: after,
      cost: precise ? objective.costOf(after) : cost,
      triangle,
      free,
      held,
      idle,
      imitating,
      lastStep: step,
    };
    // The size of a step is what it changes in the fitted values: free of units and of correlations.
    if (size < bestSize) {
      worse = size < 0.81 * bestSize ? 0 : worse + 1;
      best = now;
      bestSize = size;
    } else {
      best ??= now;
      worse += 1;
    }
    const patience = bestSize <= 1e-24 * cost ? 1 : MOST_IDLE;
    if (size === 0 || worse >= patience || isRounding(step, parameters)) break;
    parameters = parameters.map((value, j) =>
      Math.min(limits.high[j], Math.max(limits.low[j], value + step[j])),
    );
  }
  if (best === null) throw new RangeError('A fit can only be settled from finite values of the model.');
  return objective.isRobust ? { ...best, triangle: plainTriangle(objective, best) } : best;
}

/** Without the weights of a robust loss, which its covariance does not want. */
function plainTriangle(objective: Objective, { parameters, free }: Settled): Triangle {
  const jacobian = Array.from({ length: objective.k }, () => new Float64Array(objective.n));
  objective.at(parameters, new Float64Array(objective.n), jacobian);
  const columns = free.map((j) => jacobian[j]);
  return triangularise(columns, makeTriangle(columns));
}

function isRounding(step: Float64Array, parameters: Float64Array): boolean {
  return step.every((change, j) => Math.abs(change) <= 1e-17 * Math.abs(parameters[j]));
}

function heldParameters(
  parameters: Float64Array,
  limits: Limits,
  jacobian: readonly Float64Array[],
  residuals: Float64Array,
): readonly number[] {
  const held: number[] = [];
  jacobian.forEach((column, j) => {
    const atLow = parameters[j] <= limits.low[j];
    const atHigh = parameters[j] >= limits.high[j];
    if (!atLow && !atHigh) return;
    let downhill = 0;
    for (let i = 0; i < residuals.length; i += 1) downhill += column[i] * residuals[i];
    if ((atLow && downhill <= 0) || (atHigh && downhill >= 0)) held.push(j);
  });
  return held;
}
