import type { Pipeline, TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { groupRuns, type RunGroup } from './groups.ts';
import { type Belief, type Compare, createWhitening, type FittedRuns } from './infer-comparison.ts';
import { likelihoodOf } from './infer-likelihood.ts';
import { mapPriors } from './infer-priors.ts';
import { type Posterior, samplePosterior } from './infer-sample.ts';
import { intoDirections, poolScatter, type Scatter } from './infer-scatter.ts';
import { type Settled, settleScores } from './infer-settle.ts';

export interface FittedPosterior {
  readonly posterior: Posterior;
  /** Sum of squared deviations of the runs' means and of the quantities, each over its uncertainty. */
  readonly chiSquare: number;
}

/** Gathers the runs of the trials with their scatter, or says why there is nothing to fit. */
export function gatherFittedRuns(pipeline: Pipeline, trials: readonly TrialRun[]): Outcome<FittedRuns> {
  const { lab } = pipeline;
  const groups = groupRuns(lab, trials).filter((group) => group.trials.length > 0);
  if (groups.length === 0) {
    return fail(
      problem(
        'no-trials',
        { file: lab.file },
        'The lab has no trials, so there is nothing to infer from.',
        'Add trials to the lab file.',
      ),
    );
  }
  const using = lab.infer.using;
  if (using.length === 0) {
    return fail(
      problem(
        'nothing-to-fit',
        { file: lab.file },
        'No result of single runs is there to be fitted.',
        'Name scalars of "each run" under "infer: { using: […] }".',
      ),
    );
  }
  const scatter = poolScatter(pipeline, groups, using);
  return scatter.ok ? succeed({ groups, using, scatter: scatter.value }, scatter.warnings) : scatter;
}

/** Pairs of draws of the posterior. */
const PAIRS = 2048;

/** Rounds in which the scatter follows a misfit. */
const ROUNDS = 4;

/** Runs whose mean square around the model is so many times what was taken for their variance do not fit it. */
const MISFIT = 2;

/** What the trials leave of a belief; `compare` is that of the same runs and parameters. */
export function findPosterior(
  { lab }: Pipeline,
  { groups, scatter }: FittedRuns,
  { parameters }: Belief,
  compare: Compare,
  pairs = PAIRS,
): Outcome<FittedPosterior> {
  const prior = mapPriors(lab, parameters);
  const settle = (runs: 'averaged' | 'alike', variances: Float64Array, from?: Float64Array) =>
    settleScores(
      prior,
      (deviations) => {
        const compared = compare(deviations, runs);
        return compared.ok ? compared.value.difference : null;
      },
      createWhitening(groups, scatter, variances),
      from,
    );
  let variances = scatter.variances;
  let first = settle('alike', variances);
  // A model that the runs lie far from is known far less well than their own scatter says.
  for (let round = 0; round < ROUNDS && first !== null && scatter.degreesOfFreedom > 0; round++) {
    const around = meanSquares(first, groups, scatter);
    if (around.every((square, i) => square <= MISFIT * variances[i])) break;
    variances = variances.map((variance, i) => Math.max(variance, around[i]));
    first = settle('alike', variances, first.scores);
  }
  const settled = settle('averaged', variances, first?.scores);
  if (settled === null) return fail(notSettled(lab.file));
  const posterior = samplePosterior(prior, settled, likelihoodOf(scatter, groups), pairs);
  const white = createWhitening(groups, scatter)(settled.response.differences);
  const chiSquare = sumSquares(white) + sumSquares(settled.scores);
  return succeed({ posterior, chiSquare });
}

/** Mean squares of all runs around the settled model, in each direction. */
function meanSquares({ response }: Settled, groups: readonly RunGroup[], scatter: Scatter): Float64Array {
  const { squares, degreesOfFreedom } = scatter;
  const directions = intoDirections(scatter, groups, response.differences);
  return squares.map((square, i) => {
    let sum = square;
    for (const group of groups.keys()) sum += directions[group * squares.length + i] ** 2;
    return sum / (degreesOfFreedom + groups.length);
  });
}

function sumSquares(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}

/** Fewer effective draws than this know no interval. */
const FEW_DRAWS = 60;

/** Whether too few draws say what is left of a belief. */
export function isRough({ effectiveDraws }: Posterior): boolean {
  return effectiveDraws < FEW_DRAWS;
}

function notSettled(file: string): Problem {
  return problem(
    'not-settled',
    { file, step: 'infer' },
    'The fit did not settle: near the stated values the model cannot be followed, or its results jump.',
    'Look at "predict" with values within the uncertainties, and hold what makes it fail.',
  );
}
