import type { Pipeline, TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { FitReport, RunState, Scalar } from '../reduction/index.ts';
import { groupRuns, type RunGroup } from './groups.ts';
import {
  allEffects,
  gatherOutputs,
  listOutputs,
  type Output,
  type RunScalars,
  valuesOfGroup,
} from './outputs.ts';

/** What one trial gave. */
export interface ReducedRun {
  readonly trial: TrialRun;
  readonly group: number;
  readonly scalars: ReadonlyMap<string, Scalar>;
  readonly fits: readonly FitReport[];
  readonly notes: readonly Problem[];
  /** Rows that were left in the last set of columns. */
  readonly rows: number;
}

export interface ReducedTrials {
  readonly groups: readonly RunGroup[];
  readonly runs: readonly ReducedRun[];
  /** Runs that the author set aside, with the reason. */
  readonly setAside: readonly { readonly trial: TrialRun; readonly reason: string }[];
  /** Runs whose reduction failed, each with its problem; the others are not held up by them. */
  readonly failed: readonly { readonly trial: TrialRun; readonly problems: readonly Problem[] }[];
  readonly outputs: readonly {
    readonly output: Output;
    readonly value: number;
    readonly n: number;
    readonly scatter: number;
  }[];
  readonly acrossFits: readonly FitReport[];
}

/** Takes every trial through the reduction, with fits, residuals and notes kept. */
export function reduceTrials(pipeline: Pipeline, trials: readonly TrialRun[]): Outcome<ReducedTrials> {
  const { lab } = pipeline;
  const groups = groupRuns(lab, trials);
  const runs: ReducedRun[] = [];
  const failed: ReducedTrials['failed'][number][] = [];
  for (const [index, group] of groups.entries()) {
    const values = valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(lab));
    for (const trial of group.trials) {
      const reduced = pipeline.reduce(trial.readings, values, {
        runName: `run "${trial.entry.name}"`,
        keepsReports: true,
      });
      if (!reduced.ok) {
        failed.push({ trial, problems: reduced.problems });
        continue;
      }
      runs.push({ trial, group: index, ...contentsOf(reduced.value) });
    }
  }
  const outputs = listOutputs(lab, groups);
  const scalars: RunScalars[] = runs.map(({ group, scalars: given }) => ({ group, scalars: given }));
  const values = new Float64Array(outputs.length);
  const gathered =
    runs.length === 0
      ? succeed<RunState | null>(null)
      : gatherOutputs(
          pipeline,
          groups,
          outputs,
          scalars,
          pipeline.nominal,
          allEffects(lab),
          () => 1,
          values,
          true,
        );
  if (!gathered.ok) return gathered;
  return succeed({
    groups,
    runs,
    setAside: trials.flatMap((trial) =>
      trial.entry.setAside === null ? [] : [{ trial, reason: trial.entry.setAside }],
    ),
    failed,
    outputs: outputs.flatMap((output, index) => {
      const own = runs.filter((run) => output.group === null || run.group === output.group);
      if (own.length === 0) return [];
      const scatter = output.group === null ? Number.NaN : spreadOf(own, output.result.name);
      return [{ output, value: values[index], n: own.length, scatter }];
    }),
    acrossFits: gathered.value?.fits ?? [],
  });
}

function contentsOf(state: RunState) {
  let rows = 0;
  for (const column of state.columns.values()) rows = column.values.length;
  return { scalars: state.scalars, fits: state.fits, notes: state.notes, rows };
}

function spreadOf(runs: readonly ReducedRun[], name: string): number {
  const values = runs.flatMap((run) => run.scalars.get(name)?.value ?? []);
  if (values.length < 2) return Number.NaN;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
