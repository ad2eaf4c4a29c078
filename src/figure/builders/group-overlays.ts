import type { Pipeline, QuantityValues } from '../../lab/index.ts';
import type { FitReport } from '../../reduction/index.ts';
import { allEffects, type RunGroup, valuesOfGroup } from '../../run/index.ts';
import type { ChartFigure } from '../figure.ts';
import type { Wording } from '../wording.ts';
import { type OverlayAxes, type OverlaySeries, overlayFigure, overlayOfFit } from './overlay.ts';

/**
 * Theory, model and data in one plot for each fit of a run, under one group of settings.
 *
 * @param runs the fits of each real run of the group; none where nothing was measured
 * @returns a figure a fit; none where the lab fits nothing, or its full model cannot be run there
 */
export function groupOverlays(
  pipeline: Pipeline,
  group: RunGroup,
  runs: readonly (readonly FitReport[])[],
  wording: Wording,
): readonly ChartFigure[] {
  const { lab, nominal } = pipeline;
  const simulated = (subset: number): readonly FitReport[] =>
    simulateFits(pipeline, valuesOfGroup(pipeline, nominal, group, subset));
  const full = simulated(allEffects(lab));
  const ideal = lab.effects.length === 0 ? [] : simulated(0);
  return full.map((fit, index) =>
    overlayFigure(
      axesOf(fit),
      [
        ...measuredSeries(runs.flatMap((fits) => fits[index] ?? [])),
        ...seriesOf('ideal', ideal[index]),
        ...seriesOf('full', fit),
      ],
      wording,
    ),
  );
}

function simulateFits(pipeline: Pipeline, values: QuantityValues): readonly FitReport[] {
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
