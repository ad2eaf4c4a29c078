import type { LabSource } from '../../app/compute/source.ts';
import type { Task } from '../../app/compute/task.ts';
import {
  type ChartFigure,
  darkTheme,
  groupOverlays,
  layOut,
  lightTheme,
  toSvg,
  validityFigure,
  type Wording,
} from '../../src/figure/index.ts';
import type { Pipeline } from '../../src/lab/index.ts';
import { type Outcome, type Problem, succeed } from '../../src/problem/index.ts';
import {
  allEffects,
  groupRuns,
  mainGroup,
  type RunGroup,
  reduceTrials,
  valuesOfGroup,
} from '../../src/run/index.ts';
import type { PageLanguage } from '../words/index.ts';

export interface FiguresQuestion {
  readonly source: LabSource;
  /** Of the place where they are shown, CSS pixels. */
  readonly width: number;
  readonly isDark: boolean;
  readonly language: PageLanguage;
  readonly decimalMark: '.' | ',';
}

export interface DrawnFigures {
  /** Each an SVG document. */
  readonly figures: readonly string[];
  /** Runs that gave no result, with why. */
  readonly failed: readonly { readonly name: string; readonly problems: readonly Problem[] }[];
}

const RATIO = 0.66;

/** Theory, model and data in one plot, and the motion; drawn, so that the page only shows them. */
export const figuresTask: Task<FiguresQuestion, DrawnFigures> = {
  async run(room, { source, width, isDark, language, decimalMark }): Promise<Outcome<DrawnFigures>> {
    const opened = await room.open(source);
    if (!opened.ok) return opened;
    const { lab, pipeline, trials } = opened.value;
    const groups = groupRuns(lab, trials);
    const main = mainGroup(groups);
    const group = groups[main];
    const reduced = reduceTrials(pipeline, trials);
    if (!reduced.ok) return reduced;
    const own = reduced.value.runs.filter((run) => run.group === main).map(({ fits }) => fits);
    const failed = reduced.value.failed.map(({ trial, problems }) => ({ name: trial.entry.name, problems }));
    const wording = { language, decimalMark };
    const figures =
      group === undefined
        ? []
        : [...groupOverlays(pipeline, group, own, wording), ...motionFigures(pipeline, group, wording)];
    const size = {
      widthPt: width,
      heightPt: Math.round(width * RATIO),
      fontPt: 13,
      shows: 'everything',
    } as const;
    const theme = isDark ? darkTheme : lightTheme;
    const draw = (figure: ChartFigure, index: number): string =>
      toSvg(layOut(figure, { theme, size }), { idPrefix: `live-${index}-` });
    return succeed({ figures: figures.map(draw), failed }, opened.warnings);
  },
};

/** The motion in time with where the model holds; none for a relation. */
function motionFigures(pipeline: Pipeline, group: RunGroup, wording: Wording): readonly ChartFigure[] {
  const { lab, nominal } = pipeline;
  if (lab.model.kind !== 'motion') return [];
  const run = pipeline.simulate(valuesOfGroup(pipeline, nominal, group, allEffects(lab)));
  if (!run.ok || run.value.motion === null) return [];
  return [validityFigure(run.value.motion, lab.model.model, wording)];
}
