import { type Figure, fitFigure, overlayFigure, overlayOfColumns } from '../../figure/index.ts';
import type { ReducedRun } from '../../run/index.ts';
import { allEffects, settingsOff } from '../../run/index.ts';
import { type Inlines, joinInlines } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { type Section, section } from './section.ts';

/** A real run as a figure: what its readings look like. */
export interface SampleRun {
  readonly run: ReducedRun;
  readonly figure: Figure;
  readonly caption: Inlines;
}

/** The first real run with its fit; where the analysis fits nothing, its readings over those of the model. */
export function sampleRun(desk: Desk): SampleRun | null {
  const { gathered, wording, phrases } = desk;
  const runs = gathered.reduced?.runs ?? [];
  const fitted = runs.find(({ fits }) => fits.length > 0);
  const [fit] = fitted?.fits ?? [];
  if (fitted !== undefined && fit !== undefined) {
    const caption = joinInlines(phrases.guide.sampleCaption(fitted.trial.entry.name));
    return { run: fitted, figure: fitFigure(fit, wording), caption };
  }
  const [run] = runs;
  const figure = run === undefined ? null : readingsFigure(desk, run);
  if (run === undefined || figure === null) return null;
  return { run, figure, caption: joinInlines(phrases.guide.readingsOverModel(run.trial.entry.name)) };
}

/** The first two columns that the analysis makes, measured and as the full and the ideal model have them. */
function readingsFigure({ gathered, lab, wording }: Desk, { trial }: ReducedRun): Figure | null {
  const gives = gathered.extras.eachRun[0]?.settings.gives;
  const [xName, yName] = Array.isArray(gives) ? gives : [];
  if (typeof xName !== 'string' || typeof yName !== 'string') return null;
  const { pipeline } = gathered;
  const { when } = trial.entry;
  const values = pipeline.values(pipeline.nominal, when, settingsOff(lab, allEffects(lab)));
  const ideal = pipeline.values(pipeline.nominal, when, settingsOff(lab, 0));
  const measured = pipeline.reduce(trial.readings, values);
  if (!measured.ok) return null;
  const column = (name: string) => {
    const found = measured.value.columns.get(name);
    return found === undefined ? null : { text: name, dimension: found.dimension };
  };
  const [x, y] = [column(xName), column(yName)];
  if (x === null || y === null) return null;
  const simulated = (['full', 'ideal'] as const).flatMap((role) => {
    const at = role === 'full' ? values : ideal;
    const run = pipeline.simulate(at);
    const reduced = run.ok ? pipeline.reduce(run.value.readings, at) : run;
    const series = reduced.ok ? overlayOfColumns(role, reduced.value, xName, yName) : null;
    return series === null ? [] : [series];
  });
  const readings = overlayOfColumns('measured', measured.value, xName, yName);
  return readings === null ? null : overlayFigure({ x, y }, [readings, ...simulated], wording);
}

/** The sample run as a section of the guide. */
export function draftSample(desk: Desk): readonly Section[] {
  const sample = sampleRun(desk);
  if (sample === null) return [];
  return [section('sample', { kind: 'figure', figure: sample.figure, caption: sample.caption })];
}
