import { drawEstimates, randomSource } from '../inference/index.ts';
import type { Readings } from '../instrument/index.ts';
import type { Pipeline, Setting } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { plannedGroups, type RunGroup } from './groups.ts';
import {
  allEffects,
  gatherOutputs,
  listOutputs,
  type Output,
  type RunScalars,
  valuesOfGroup,
} from './outputs.ts';
import { drawRun } from './run-variation.ts';

export interface RehearseOptions {
  /** How often the whole plan is rehearsed; default 100. */
  readonly repeats?: number;
  readonly seed?: number;
  readonly settings?: readonly Setting[];
  /** Whether the true values of the quantities are drawn within their uncertainties, once a rehearsal. */
  readonly drawsQuantities?: boolean;
  /** Keeps the readings of the first rehearsal, one set a run. */
  readonly keepsReadings?: boolean;
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

/** What one output came out as over the rehearsals. */
export interface RehearsedOutput {
  readonly output: Output;
  /** Mean, standard deviation and the central 95 % of the plan's result (mean over its repeats), SI. */
  readonly mean: number;
  readonly spread: number;
  readonly low: number;
  readonly high: number;
  /** Mean standard uncertainty that a single run reports for itself, SI; NaN where it reports none. */
  readonly reported: number;
  /** Standard deviation of single runs within a rehearsal, SI. */
  readonly singleRun: number;
  readonly values: Float64Array;
}

export interface Rehearsal {
  readonly groups: readonly RunGroup[];
  readonly outputs: readonly RehearsedOutput[];
  readonly repeats: number;
  /** Rehearsals in which a run failed, with the first reason; they count for nothing else. */
  readonly failed: number;
  readonly firstFailure: Problem | null;
  /** One entry a run of the first rehearsal. */
  readonly readings: readonly {
    readonly group: number;
    readonly repeat: number;
    readonly readings: readonly Readings[];
  }[];
}

/**
 * Rehearses the plan: simulated runs with the instruments' resolution and noise, reduced like real ones, many times.
 *
 * The same seed gives the same readings. What differs from run to run is drawn anew for every run. With `drawsQuantities` the apparatus is another one each time, within the
 * uncertainties, while the reduction goes on with the author's values, as in a school.
 *
 * @returns the scatter of every output; fails where no rehearsal at all succeeds
 */
export function rehearse(pipeline: Pipeline, options: RehearseOptions = {}): Outcome<Rehearsal> {
  const { lab } = pipeline;
  const repeats = options.repeats ?? 100;
  const groups = plannedGroups(lab, options.settings);
  const outputs = listOutputs(lab, groups);
  const source = randomSource(options.seed ?? 1);
  const table = outputs.map(() => new Float64Array(repeats));
  const reported = outputs.map(() => ({ sum: 0, count: 0 }));
  const within = outputs.map(() => ({ squares: 0, freedom: 0 }));
  const kept: Rehearsal['readings'][number][] = [];
  const estimates = lab.quantities.base.map((quantity) => quantity.estimate);
  let done = 0;
  let failed = 0;
  let firstFailure: Problem | null = null;
  for (let repeat = 0; repeat < repeats && options.signal?.aborted !== true; repeat++) {
    const stream = source.fork(repeat);
    const truth = Float64Array.from(pipeline.nominal);
    if (options.drawsQuantities === true) drawEstimates(estimates, lab.correlations, stream.fork(-1), truth);
    const runs: RunScalars[] = [];
    let problemFound: Problem | null = null;
    for (const [index, group] of groups.entries()) {
      const reduceWith = valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(lab));
      for (let run = 0; run < lab.plan.repeats && problemFound === null; run++) {
        const random = stream.fork(index * lab.plan.repeats + run);
        const own = drawRun(lab, truth, random.fork(-1));
        const simulateWith = valuesOfGroup(pipeline, own, group, allEffects(lab));
        const simulated = pipeline.simulate(simulateWith, { random });
        if (!simulated.ok) {
          problemFound = simulated.problems[0] ?? null;
          break;
        }
        if (repeat === 0 && options.keepsReadings === true)
          kept.push({ group: index, repeat: run, readings: simulated.value.readings });
        const reduced = pipeline.reduce(simulated.value.readings, reduceWith, { findsUncertainties: true });
        if (reduced.ok) runs.push({ group: index, scalars: reduced.value.scalars });
        else problemFound = reduced.problems[0] ?? null;
      }
    }
    const values = new Float64Array(outputs.length);
    if (problemFound === null) {
      const gathered = gatherOutputs(
        pipeline,
        groups,
        outputs,
        runs,
        pipeline.nominal,
        allEffects(lab),
        () => 1,
        values,
      );
      if (!gathered.ok) problemFound = gathered.problems[0] ?? null;
    }
    if (problemFound !== null) {
      failed += 1;
      firstFailure ??= problemFound;
    } else {
      outputs.forEach((output, index) => {
        table[index][done] = values[index];
        noteRuns(output, runs, values[index], reported[index], within[index]);
      });
      done += 1;
    }
    options.progress?.(repeat + 1, repeats);
  }
  if (done === 0) {
    return fail(
      firstFailure ??
        problem(
          'cancelled',
          { file: lab.file },
          'The rehearsal was cancelled before its first run was done.',
        ),
    );
  }
  return succeed({
    groups,
    outputs: outputs.map((output, index) =>
      summarise(output, table[index].subarray(0, done), reported[index], within[index]),
    ),
    repeats: done,
    failed,
    firstFailure,
    readings: kept,
  });
}

function noteRuns(
  output: Output,
  runs: readonly RunScalars[],
  mean: number,
  reported: { sum: number; count: number },
  within: { squares: number; freedom: number },
): void {
  const scalars = runs
    .filter((run) => output.group === run.group)
    .flatMap((run) => run.scalars.get(output.result.name) ?? []);
  for (const scalar of scalars) {
    if (Number.isNaN(scalar.standardUncertainty)) continue;
    reported.sum += scalar.standardUncertainty;
    reported.count += 1;
  }
  for (const scalar of scalars) within.squares += (scalar.value - mean) ** 2;
  within.freedom += Math.max(scalars.length - 1, 0);
}

function summarise(
  output: Output,
  values: Float64Array,
  reported: { readonly sum: number; readonly count: number },
  within: { readonly squares: number; readonly freedom: number },
): RehearsedOutput {
  const sorted = Float64Array.from(values).sort();
  const n = sorted.length;
  const mean = sorted.reduce((sum, value) => sum + value, 0) / n;
  const squares = sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  // The least and greatest stand for the limits where there are too few rehearsals for 2.5 % to be cut off.
  const cut = Math.floor(0.025 * n);
  return {
    output,
    mean,
    spread: n < 2 ? Number.NaN : Math.sqrt(squares / (n - 1)),
    low: sorted[cut],
    high: sorted[n - 1 - cut],
    reported: reported.count === 0 ? Number.NaN : reported.sum / reported.count,
    singleRun: within.freedom === 0 ? Number.NaN : Math.sqrt(within.squares / within.freedom),
    values,
  };
}
