import { choleskyFactor, fitNonlinear } from '../inference/index.ts';
import type { BaseQuantity, Pipeline, TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { groupRuns } from './groups.ts';
import { createComparison, createWhitening } from './infer-comparison.ts';
import { correlatePosterior, factorPriors } from './infer-priors.ts';
import { type Inference, reportInference } from './infer-report.ts';
import { poolScatter } from './infer-scatter.ts';

export interface InferOptions {
  /** Symbols of the quantities that are reported; the lab's own choice where left out. */
  readonly free?: readonly string[];
  readonly signal?: { readonly aborted: boolean };
}

/**
 * Which values of the free quantities the trials ask for, given what was known before.
 *
 * Every uncertain quantity has a normal prior with its value and standard uncertainty, correlated as the lab states;
 * the runs' scalars are compared with the model's by least squares, both sides following the quantities. The posterior
 * is the normal approximation at its maximum. The scatter of the scalars, with their correlation, is pooled over the
 * groups; where few runs show it, it is widened so that 95 % intervals of the posterior hold what they say.
 *
 * @returns posterior values and covariance, and which quantities the data cannot tell apart
 * Source of the method: Bayes' rule with normal priors as added observations; JCGM 102:2011, A.2 for the notation
 */
export function infer(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  options: InferOptions = {},
): Outcome<Inference> {
  const { lab } = pipeline;
  const chosen = chooseFree(pipeline, options.free ?? lab.infer.free);
  if (!chosen.ok) return chosen;
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
  const parameters = lab.quantities.base.filter(({ estimate }) => estimate.standardUncertainty > 0);
  const scatter = poolScatter(pipeline, groups, using);
  if (!scatter.ok) return scatter;
  const priors = factorPriors(lab, parameters);
  const compare = createComparison(pipeline, groups, using, parameters, priors);
  const start = new Float64Array(parameters.length);
  const before = compare(start);
  if (!before.ok) return before;
  const factor = choleskyFactor(scatter.value.covariance, using.length);
  if (factor === null || using.some((_, index) => !(factor[index * using.length + index] > 0))) {
    return fail(
      problem(
        'no-scatter',
        { file: lab.file },
        `The runs give ${using.join(' and ')} without any scatter of their own, so the fit cannot weigh them.`,
        'Take more runs, or fit fewer scalars.',
      ),
    );
  }
  const whiten = createWhitening(groups, using.length, factor);
  const count = before.value.difference.length;
  const fitted = fitNonlinear({
    y: new Float64Array(count + parameters.length),
    start,
    uy: 1,
    names: parameters.map(({ name }) => name),
    evaluate: (theta, values, jacobian) => {
      evaluateWithPriors(theta, values, jacobian, (at) => {
        const compared = compare(at);
        return compared.ok ? whiten(compared.value.difference) : new Float64Array(count).fill(Number.NaN);
      });
    },
    place: { file: lab.file, step: 'infer' },
  });
  if (!fitted.ok) return fitted;
  const after = compare(fitted.value.parameters);
  if (!after.ok) return after;
  return succeed(
    reportInference(chosen.value, parameters, correlatePosterior(fitted.value, priors), {
      groups,
      using,
      before: before.value,
      after: after.value,
      scatter: scatter.value,
    }),
    [...scatter.warnings, ...fitted.value.warnings],
  );
}

function chooseFree(pipeline: Pipeline, names: readonly string[]): Outcome<readonly BaseQuantity[]> {
  const { lab } = pipeline;
  const problems: Problem[] = [];
  const chosen = names.flatMap((name): BaseQuantity[] => {
    const quantity = lab.quantities.byName.get(name);
    if (quantity?.kind === 'base' && quantity.estimate.standardUncertainty > 0) return [quantity];
    const why =
      quantity === undefined
        ? 'is not a quantity of this lab'
        : quantity.kind === 'derived'
          ? 'is computed from others'
          : 'states no uncertainty';
    problems.push(
      problem('cannot-be-free', { file: lab.file }, `${name} ${why}, so the trials cannot correct it.`),
    );
    return [];
  });
  if (problems.length > 0) return fail(...problems);
  if (chosen.length > 0) return succeed(chosen);
  return fail(
    problem(
      'nothing-free',
      { file: lab.file },
      'No quantity is free.',
      'Name quantities under "infer: { free: […] }".',
    ),
  );
}

/** Step of the central differences in standard uncertainties: wide against the integrator's noise, narrow against curvature. */
const STEP = 0.1;

/** Whitened differences, then the priors as observations θ = 0 ± 1; derivatives by central differences. */
function evaluateWithPriors(
  theta: Float64Array,
  values: Float64Array,
  jacobian: readonly Float64Array[] | null,
  whitened: (theta: Float64Array) => Float64Array,
): void {
  const data = whitened(theta);
  values.set(data);
  values.set(theta, data.length);
  if (jacobian === null) return;
  const point = Float64Array.from(theta);
  jacobian.forEach((column, parameter) => {
    point[parameter] = theta[parameter] + STEP;
    const above = whitened(point);
    point[parameter] = theta[parameter] - STEP;
    const below = whitened(point);
    point[parameter] = theta[parameter];
    column.fill(0);
    for (let row = 0; row < data.length; row++) column[row] = (above[row] - below[row]) / (2 * STEP);
    column[data.length + parameter] = 1;
  });
}
