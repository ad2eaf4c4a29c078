import {
  type ChartFigure,
  fitFigure,
  type OverlayAxes,
  type OverlaySeries,
  overlayFigure,
  overlayOfFit,
} from '../../../src/figure/index.ts';
import type { QuantityValues } from '../../../src/lab/index.ts';
import type { Outcome, Problem } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import type { FitReport } from '../../../src/reduction/index.ts';
import {
  allEffects,
  groupRuns,
  mainGroup,
  type PredictedHold,
  predict,
  reduceTrials,
  valuesOfGroup,
} from '../../../src/run/index.ts';
import { motionFigure } from '../motion-figure.ts';
import type { OpenedLab } from '../room.ts';
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
    const simulated = (subset: number): readonly FitReport[] => {
      if (group === undefined) return [];
      return simulateFits(opened.value, valuesOfGroup(pipeline, pipeline.nominal, group, subset));
    };
    const full = simulated(allEffects(lab));
    const ideal = lab.effects.length === 0 ? [] : simulated(0);
    const own = reduced.value.runs.filter((run) => run.group === chosen);
    const predicted = predict(pipeline, { settings: group?.when ?? [] });
    return succeed({
      groupLabel: group?.label ?? '',
      overlays: full.map((fit, index) =>
        overlayFigure(
          axesOf(fit),
          [
            ...measuredSeries(own.flatMap((run) => run.fits[index] ?? [])),
            ...seriesOf('ideal', ideal[index]),
            ...seriesOf('full', fit),
          ],
          WORDING,
        ),
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

function simulateFits({ pipeline }: OpenedLab, values: QuantityValues): readonly FitReport[] {
  const run = pipeline.simulate(values);
  if (!run.ok) return [];
  const reduced = pipeline.reduce(run.value.readings, values, { keepsReports: true });
  return reduced.ok ? reduced.value.fits : [];
}

function axesOf({ x, y }: FitReport): OverlayAxes {
  return { x: { text: x.text, dimension: x.dimension }, y: { text: y.text, dimension: y.dimension } };
}

/** The readings of all runs as one series: a legend needs them once. */
function measuredSeries(fits: readonly FitReport[]): readonly OverlaySeries[] {
  if (fits.length === 0) return [];
  const all = (pick: (fit: FitReport) => ArrayLike<number>): Float64Array =>
    Float64Array.from(fits.flatMap((fit) => Array.from(pick(fit))));
  const allOrNone = (pick: (fit: FitReport) => ArrayLike<number> | null): Float64Array | null =>
    fits.every((fit) => pick(fit) !== null) ? all((fit) => pick(fit) ?? []) : null;
  return [
    {
      role: 'measured',
      x: all(({ x }) => x.values),
      y: all(({ y }) => y.values),
      ux: allOrNone(({ x }) => x.u),
      uy: allOrNone(({ y }) => y.u),
    },
  ];
}

function seriesOf(role: OverlaySeries['role'], fit: FitReport | undefined): readonly OverlaySeries[] {
  // A model has no noise: what its fit makes of resolution is no uncertainty to be drawn.
  return fit === undefined ? [] : [{ ...overlayOfFit(role, fit), ux: null, uy: null }];
}
