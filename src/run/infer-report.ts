import type { BaseQuantity } from '../lab/index.ts';
import type { Comparison, FittedRuns } from './infer-comparison.ts';
import type { FittedPosterior } from './infer-posterior.ts';
import type { Posterior } from './infer-sample.ts';
import type { Scatter } from './infer-scatter.ts';

/** A value with its standard uncertainty, SI. */
export interface InferredValue {
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface InferredQuantity {
  readonly quantity: BaseQuantity;
  readonly prior: InferredValue;
  readonly posterior: InferredValue & {
    /** Holds the true value with this probability, SI. */
    readonly interval: { readonly level: number; readonly low: number; readonly high: number };
  };
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

/** Two quantities are told apart no more where they are correlated more strongly than this (common practice, no source). */
const INDISTINGUISHABLE = 0.95;

/** A posterior this close to the prior's width has learned nothing worth the name. */
const UNINFORMED = 0.95;

interface Compared extends FittedRuns {
  readonly before: Comparison;
  readonly after: Comparison;
}

/** Puts together what the fit says of the chosen quantities. */
export function reportInference(
  chosen: readonly BaseQuantity[],
  parameters: readonly BaseQuantity[],
  { posterior: fitted, chiSquare }: FittedPosterior,
  { groups, using, scatter, before, after }: Compared,
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
  return {
    free: chosen.map((quantity, i) => sayQuantity(quantity, places[i], fitted)),
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
    chiSquare,
    degreesOfFreedom: after.difference.length,
    data: groups.flatMap((group, g) =>
      using.map((scalar, s) => ({
        scalar,
        group: group.label,
        measured: before.measured[g * using.length + s],
        before: before.predicted[g * using.length + s],
        after: after.predicted[g * using.length + s],
        standardUncertainty: Math.sqrt(varianceOf(scatter, g, s) / group.trials.length),
      })),
    ),
  };
}

/** What the trials leave of one parameter, the one at `place`. */
export function sayQuantity(quantity: BaseQuantity, place: number, fitted: Posterior): InferredQuantity {
  const { value, standardUncertainty: scale } = quantity.estimate;
  const { means, covariance, low, high } = fitted;
  return {
    quantity,
    prior: { value, standardUncertainty: scale },
    posterior: {
      value: value + means[place] * scale,
      standardUncertainty: Math.sqrt(covariance[place * means.length + place]) * scale,
      interval: { level: 0.95, low: value + low[place] * scale, high: value + high[place] * scale },
    },
    shift: means[place],
  };
}

/** Variance of one scalar of one run of a group, SI. */
function varianceOf({ toScalars, variances }: Scatter, group: number, scalar: number): number {
  return variances.reduce(
    (sum, variance, i) => sum + toScalars[group][scalar * variances.length + i] ** 2 * variance,
    0,
  );
}
