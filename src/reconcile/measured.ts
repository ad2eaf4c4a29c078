import type { Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { ManyRuns, Output, RunGroup, RunScalars } from '../run/index.ts';
import { allEffects, gatherOutputs, reduceGroups } from '../run/index.ts';
import type { GatherPoint } from './gather-points.ts';
import type { EvaluateMany } from './response.ts';

/** What the trials say of one output, before the uncertainty that the quantities bring. */
export interface MeasuredOutput {
  readonly value: number;
  /** Number of runs. */
  readonly n: number;
  /** Standard uncertainty from scatter: of the mean over runs, or of the fit where there is one run. */
  readonly scatter: number;
  readonly degreesOfFreedom: number;
}

/**
 * Measures every output from the trials.
 *
 * The scatter of two or more runs is their standard deviation over √n (JCGM 100, 4.2.3), with n − 1 degrees of
 * freedom; a single run, and runs that are all alike, bring what their own steps state. Across runs the steps state it.
 *
 * @returns null for outputs without trials
 */
export function measureOutputs(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  outputs: readonly Output[],
): Outcome<readonly (MeasuredOutput | null)[]> {
  const reduced = reduceGroups(pipeline, groups, pipeline.nominal, true);
  if (!reduced.ok) return reduced;
  const warnings: Problem[] = [...reduced.warnings];
  const total = reduced.value.length;
  if (total === 0)
    return succeed(
      outputs.map(() => null),
      warnings,
    );
  const values = new Float64Array(outputs.length);
  const gathered = gatherOutputs(
    pipeline,
    groups,
    outputs,
    reduced.value,
    pipeline.nominal,
    allEffects(pipeline.lab),
    () => 1,
    values,
  );
  if (!gathered.ok) return gathered;
  const measured = outputs.map((output, index): MeasuredOutput | null => {
    if (output.group === null) {
      const scalar = gathered.value?.scalars.get(output.result.name);
      return {
        value: values[index],
        n: total,
        scatter: scalar?.standardUncertainty ?? Number.NaN,
        degreesOfFreedom: scalar?.degreesOfFreedom ?? 0,
      };
    }
    const runs = reduced.value.filter((run) => run.group === output.group);
    return runs.length === 0 ? null : overRuns(runs, output.result.name, values[index]);
  });
  return succeed(measured, warnings);
}

/**
 * Makes the function that reduces the trials again with other values of the quantities.
 *
 * @returns null where there are no trials
 */
export function createMeasure(
  pipeline: Pipeline,
  runs: ManyRuns,
  groups: readonly RunGroup[],
  gather: GatherPoint,
  baseAt: (inputs: Float64Array, rows: number) => Float64Array,
  outputs: number,
): EvaluateMany | null {
  const groupOf = groups.flatMap(({ trials }, group) => trials.map(() => group));
  if (groupOf.length === 0) return null;
  const weights = groups.map(() => 1);
  const subset = allEffects(pipeline.lab);
  return (inputs, count, values, sound) => {
    const base = baseAt(inputs, count);
    const perPoint = groupOf.length * runs.width;
    const scalars = new Float64Array(count * perPoint);
    runs.reduceTrials(pipeline, base, count, scalars, sound);
    for (let point = 0; point < count; point++) {
      if (sound[point] === 0) continue;
      const problems = gather(
        scalars.subarray(point * perPoint, (point + 1) * perPoint),
        groupOf,
        weights,
        base.subarray((point * base.length) / count, ((point + 1) * base.length) / count),
        subset,
        values.subarray(point * outputs, (point + 1) * outputs),
      );
      if (problems !== null) sound[point] = 0;
    }
  };
}

function overRuns(runs: readonly RunScalars[], name: string, mean: number): MeasuredOutput {
  const n = runs.length;
  const scalars = runs.flatMap((run) => run.scalars.get(name) ?? []);
  const [only] = scalars;
  if (n === 1 && only !== undefined) {
    return { value: mean, n, scatter: only.standardUncertainty, degreesOfFreedom: only.degreesOfFreedom };
  }
  const squares = scalars.reduce((sum, scalar) => sum + (scalar.value - mean) ** 2, 0);
  // Runs that all show the same reading have a resolution that repeating does not refine; JCGM 100, F.2.2.1.
  if (squares === 0 && only !== undefined) {
    return { value: mean, n, scatter: only.standardUncertainty, degreesOfFreedom: only.degreesOfFreedom };
  }
  return { value: mean, n, scatter: Math.sqrt(squares / (n - 1) / n), degreesOfFreedom: n - 1 };
}
