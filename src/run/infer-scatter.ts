import { meanOf, normalQuantile, studentQuantile } from '../inference/index.ts';
import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, problem, succeed, warning } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { type RunScalars, reduceGroups } from './outputs.ts';

/**
 * A scatter seen in few runs is widened by t/z at this probability, so that an interval of 95 % in the posterior's
 * standard uncertainties covers as one of Student's distribution would; JCGM 100:2008, G.3.2.
 */
const UPPER = 0.975;

/** Covariance of the scalars of one run, k × k, and its degrees of freedom. */
export interface Scatter {
  readonly covariance: Float64Array;
  readonly degreesOfFreedom: number;
}

/**
 * Covariance of the scalars within groups, pooled; where there are too few runs to know it, what the steps state.
 */
export function poolScatter(
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
  if (freedom > k) {
    // Several groups are weighed against one another with the estimated covariance; what its correlations cost is lost.
    const left = groups.length > 1 ? freedom - (k - 1) : freedom;
    return succeed({ covariance: pooled.map((sum) => (sum / left) * widen(left)), degreesOfFreedom: left });
  }
  return statedScatter(reduced.value, using, pipeline.lab.file);
}

/** By how much a variance known with few degrees of freedom is widened; 1 for infinitely many. */
function widen(degreesOfFreedom: number): number {
  return (studentQuantile(UPPER, degreesOfFreedom) / normalQuantile(UPPER)) ** 2;
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
    const freedom = runs.reduce((sum, run) => sum + (run.scalars.get(name)?.degreesOfFreedom ?? 0), 0);
    covariance[index * k + index] = freedom > 0 ? variance * widen(freedom) : variance;
  }
  return succeed({ covariance, degreesOfFreedom: Number.POSITIVE_INFINITY }, [
    warning(
      'few-runs',
      { file },
      'There are too few runs to see how the scalars scatter together; they are taken as independent, with the uncertainties their steps state.',
    ),
  ]);
}
