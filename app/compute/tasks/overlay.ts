import { type ChartFigure, fitFigure, groupOverlays } from '../../../src/figure/index.ts';
import type { Outcome, Problem } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { groupRuns, mainGroup, type PredictedHold, predict, reduceTrials } from '../../../src/run/index.ts';
import { motionFigure } from '../motion-figure.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';
import { WORDING } from '../wording.ts';

export interface OverlayQuestion {
  readonly source: LabSource;
  /** Label of the group of settings; null for the lab's own. */
  readonly group: string | null;
}

/** One real run under the settings that are shown. */
export interface OverlayRun {
  readonly name: string;
  readonly figures: readonly ChartFigure[];
}

export interface OverlayAnswer {
  readonly groupLabel: string;
  /** Theory, model and data of each fit of a run, one figure a fit. */
  readonly overlays: readonly ChartFigure[];
  /** The motion in time with where the model holds; null for a relation. */
  readonly motion: ChartFigure | null;
  readonly holds: readonly PredictedHold[];
  readonly ended: { readonly by: string; readonly t: number } | null;
  /** Each run's own fit with its residuals. */
  readonly runs: readonly OverlayRun[];
  readonly setAside: readonly { readonly name: string; readonly reason: string }[];
  readonly failed: readonly { readonly name: string; readonly problems: readonly Problem[] }[];
}

/** Theory, model and data in one plot for one group of settings, the motion, and each run's residuals. */
export const overlayTask: Task<OverlayQuestion, OverlayAnswer> = {
  async run(room, question): Promise<Outcome<OverlayAnswer>> {
    const opened = await room.open(question.source);
    if (!opened.ok) return opened;
    const { lab, pipeline, trials } = opened.value;
    const groups = groupRuns(lab, trials);
    const asked = groups.findIndex(({ label }) => label === question.group);
    const chosen = asked >= 0 ? asked : mainGroup(groups);
    const group = groups[chosen];
    const reduced = reduceTrials(pipeline, trials);
    if (!reduced.ok) return reduced;
    const own = reduced.value.runs.filter((run) => run.group === chosen);
    const predicted = predict(pipeline, { settings: group?.when ?? [] });
    return succeed({
      groupLabel: group?.label ?? '',
      overlays:
        group === undefined
          ? []
          : groupOverlays(
              pipeline,
              group,
              own.map(({ fits }) => fits),
              WORDING,
            ),
      motion: motionFigure(pipeline, group),
      holds: predicted.ok ? predicted.value.holds : [],
      ended: predicted.ok ? predicted.value.ended : null,
      runs: own.map(({ trial, fits }) => ({
        name: trial.entry.name,
        figures: fits.map((fit) => fitFigure(fit, WORDING)),
      })),
      setAside: reduced.value.setAside.map(({ trial, reason }) => ({ name: trial.entry.name, reason })),
      failed: reduced.value.failed.map(({ trial, problems }) => ({ name: trial.entry.name, problems })),
    });
  },
};
