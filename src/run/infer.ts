import { choleskyFactor, fitNonlinear, meanOf } from '../inference/index.ts';
import type { BaseQuantity, Pipeline, TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed, warning } from '../problem/index.ts';
import { groupRuns, type RunGroup } from './groups.ts';
import { allEffects, type RunScalars, reduceGroups, simulateGroups } from './outputs.ts';

/** A value with its standard uncertainty, SI. */
export interface InferredValue {
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface InferredQuantity {
  readonly quantity: BaseQuantity;
  readonly prior: InferredValue;
  readonly posterior: InferredValue;
  /** (posterior − prior) over the prior's standard uncertainty. */
  readonly shift: number;
}

export interface Inference {
  readonly free: readonly InferredQuantity[];
  /** free × free, row-major, SI. */
  readonly covariance: Float64Array;
  /** free × free. */
  readonly correlations: Float64Array;
  /** Pairs that the data cannot tell apart: only a combination of the two is known. */
  readonly indistinguishable: readonly {
    readonly between: readonly [BaseQuantity, BaseQuantity];
    readonly correlation: number;
  }[];
  /** Quantities about which the data say next to nothing: the posterior is the prior. */
  readonly uninformed: readonly BaseQuantity[];
  /** Quantities that were fitted along because they are uncertain too. */
  readonly alongside: readonly BaseQuantity[];
  /** Sum of squared deviations of the runs' means from the fitted model, each over its uncertainty. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** What was fitted: one row a group and scalar, SI. */
  readonly data: readonly {
    readonly scalar: string;
    readonly group: string;
    readonly measured: number;
    readonly before: number;
    readonly after: number;
    readonly standardUncertainty: number;
  }[];
}

export interface InferOptions {
  /** Symbols of the quantities that are reported; the lab's own choice where left out. */
  readonly free?: readonly string[];
  readonly signal?: { readonly aborted: boolean };
}

/** Two quantities are told apart no more where they are correlated more strongly than this (common practice, no source). */
const INDISTINGUISHABLE = 0.95;

/** A posterior this close to the prior's width has learned nothing worth the name. */
const UNINFORMED = 0.95;

/**
 * Which values of the free quantities the trials ask for, given what was known before.
 *
 * Every uncertain quantity has a normal prior with its value and standard uncertainty; the runs' scalars are
 * compared with the model's by least squares, both sides following the quantities. The posterior is the normal
 * approximation at its maximum. The scatter of the scalars, with their correlation, is pooled over the groups.
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
  const compare = createComparison(pipeline, groups, using, parameters);
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
    report(chosen.value, parameters, fitted.value, {
      groups,
      using,
      before: before.value,
      after: after.value,
      scatter: scatter.value,
    }),
    fitted.value.warnings,
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

/** Covariance of the scalars of one run, k × k, and its degrees of freedom. */
interface Scatter {
  readonly covariance: Float64Array;
  readonly degreesOfFreedom: number;
}

/**
 * Covariance of the scalars within groups, pooled; where there are too few runs to know it, what the steps state.
 */
function poolScatter(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  using: readonly string[],
): Outcome<Scatter> {
  const reduced = reduceGroups(pipeline, groups, pipeline.nominal, true);
  if (!reduced.ok) return reduced;
  const k = using.length;
  const pooled = new Float64Array(k * k);
  let freedom = 0;
  for (const [index] of groups.entries()) {
    const runs = reduced.value.filter((run) => run.group === index);
    const columns = using.map((name) =>
      Float64Array.from(runs, (run) => run.scalars.get(name)?.value ?? Number.NaN),
    );
    const means = columns.map((column) => column.reduce((sum, value) => sum + value, 0) / column.length);
    freedom += runs.length - 1;
    for (let run = 0; run < runs.length; run++) {
      for (let i = 0; i < k; i++) {
        for (let j = 0; j < k; j++)
          pooled[i * k + j] += (columns[i][run] - means[i]) * (columns[j][run] - means[j]);
      }
    }
  }
  // A k × k covariance from fewer than k + 1 degrees of freedom has directions without any scatter at all.
  if (freedom > k)
    return succeed({ covariance: pooled.map((sum) => sum / freedom), degreesOfFreedom: freedom });
  return statedScatter(reduced.value, using, pipeline.lab.file);
}

function statedScatter(
  runs: readonly RunScalars[],
  using: readonly string[],
  file: string,
): Outcome<Scatter> {
  const k = using.length;
  const covariance = new Float64Array(k * k);
  for (const [index, name] of using.entries()) {
    const stated = meanOf(runs.map((run) => (run.scalars.get(name)?.standardUncertainty ?? Number.NaN) ** 2));
    const variance = stated.ok ? stated.value.value : Number.NaN;
    if (!(variance > 0)) {
      return fail(
        problem(
          'no-uncertainty',
          { file },
          `The runs state no uncertainty of ${name} and are too few to show one; the fit cannot weigh them.`,
          'Take more runs under the same settings.',
        ),
      );
    }
    covariance[index * k + index] = variance;
  }
  return succeed({ covariance, degreesOfFreedom: Number.POSITIVE_INFINITY }, [
    warning(
      'few-runs',
      { file },
      'There are too few runs to see how the scalars scatter together; they are taken as independent, with the uncertainties their steps state.',
    ),
  ]);
}

/** Means of the runs, the model's prediction, and their difference: groups × scalars. */
interface Comparison {
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
  readonly difference: Float64Array;
}

/** Compares with the quantities at value + θ·u; the reduction of the trials follows the quantities too. */
function createComparison(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  using: readonly string[],
  parameters: readonly BaseQuantity[],
) {
  return (theta: Float64Array): Outcome<Comparison> => {
    const base = Float64Array.from(pipeline.nominal);
    parameters.forEach(({ index, estimate }, at) => {
      base[index] = estimate.value + theta[at] * estimate.standardUncertainty;
    });
    const simulated = simulateGroups(pipeline, groups, base, allEffects(pipeline.lab));
    if (!simulated.ok) return simulated;
    const reduced = reduceGroups(pipeline, groups, base, false);
    if (!reduced.ok) return reduced;
    const measured = meansOf(reduced.value, groups.length, using);
    const predicted = meansOf(simulated.value, groups.length, using);
    return succeed({
      measured,
      predicted,
      difference: predicted.map((value, index) => value - measured[index]),
    });
  };
}

function meansOf(runs: readonly RunScalars[], groups: number, using: readonly string[]): Float64Array {
  const means = new Float64Array(groups * using.length);
  for (let group = 0; group < groups; group++) {
    const own = runs.filter((run) => run.group === group);
    for (const [index, name] of using.entries()) {
      means[group * using.length + index] =
        own.reduce((sum, run) => sum + (run.scalars.get(name)?.value ?? Number.NaN), 0) / own.length;
    }
  }
  return means;
}

/** Turns differences of group means into independent numbers of variance 1: L⁻¹·difference·√n, L Lᵀ the covariance. */
function createWhitening(groups: readonly RunGroup[], k: number, factor: Float64Array) {
  return (difference: Float64Array): Float64Array => {
    const white = new Float64Array(difference.length);
    for (const [group, { trials }] of groups.entries()) {
      for (let i = 0; i < k; i++) {
        let rest = difference[group * k + i] * Math.sqrt(trials.length);
        for (let j = 0; j < i; j++) rest -= factor[i * k + j] * white[group * k + j];
        white[group * k + i] = rest / factor[i * k + i];
      }
    }
    return white;
  };
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

interface Compared {
  readonly groups: readonly RunGroup[];
  readonly using: readonly string[];
  readonly before: Comparison;
  readonly after: Comparison;
  readonly scatter: Scatter;
}

function report(
  chosen: readonly BaseQuantity[],
  parameters: readonly BaseQuantity[],
  fitted: {
    readonly parameters: Float64Array;
    readonly covariance: Float64Array;
    readonly sumOfSquares: number;
  },
  compared: Compared,
): Inference {
  const all = parameters.length;
  const places = chosen.map((quantity) => parameters.indexOf(quantity));
  const size = chosen.length;
  const covariance = new Float64Array(size * size);
  const correlations = new Float64Array(size * size);
  const entry = (i: number, j: number) => fitted.covariance[places[i] * all + places[j]];
  const scaleOf = (i: number) => chosen[i].estimate.standardUncertainty;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      covariance[i * size + j] = entry(i, j) * scaleOf(i) * scaleOf(j);
      correlations[i * size + j] = entry(i, j) / Math.sqrt(entry(i, i) * entry(j, j));
    }
  }
  const pairs = chosen.flatMap((_, i) =>
    Array.from({ length: size - i - 1 }, (__, offset) => [i, i + 1 + offset] as const),
  );
  const { groups, using, before, after, scatter } = compared;
  return {
    free: chosen.map((quantity, i) => ({
      quantity,
      prior: { value: quantity.estimate.value, standardUncertainty: scaleOf(i) },
      posterior: {
        value: quantity.estimate.value + fitted.parameters[places[i]] * scaleOf(i),
        standardUncertainty: Math.sqrt(covariance[i * size + i]),
      },
      shift: fitted.parameters[places[i]],
    })),
    covariance,
    correlations,
    indistinguishable: pairs
      .filter(([i, j]) => Math.abs(correlations[i * size + j]) > INDISTINGUISHABLE)
      .map(([i, j]) => ({
        between: [chosen[i], chosen[j]] as const,
        correlation: correlations[i * size + j],
      })),
    uninformed: chosen.filter((_, i) => Math.sqrt(entry(i, i)) > UNINFORMED),
    alongside: parameters.filter((quantity) => !chosen.includes(quantity)),
    chiSquare: fitted.sumOfSquares,
    degreesOfFreedom: after.difference.length,
    data: groups.flatMap((group, g) =>
      using.map((scalar, s) => ({
        scalar,
        group: group.label,
        measured: before.measured[g * using.length + s],
        before: before.predicted[g * using.length + s],
        after: after.predicted[g * using.length + s],
        standardUncertainty: Math.sqrt(scatter.covariance[s * using.length + s] / group.trials.length),
      })),
    ),
  };
}
