import type { LabSource } from '../../app/compute/source.ts';
import type { Task } from '../../app/compute/task.ts';
import { overlayTask } from '../../app/compute/tasks/overlay.ts';
import { type ChartFigure, darkTheme, layOut, lightTheme, toSvg } from '../../src/figure/index.ts';
import { type Outcome, type Problem, succeed } from '../../src/problem/index.ts';

export interface FiguresQuestion {
  readonly source: LabSource;
  /** Of the place where they are shown, CSS pixels. */
  readonly width: number;
  readonly isDark: boolean;
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
  async run(room, { source, width, isDark }, report): Promise<Outcome<DrawnFigures>> {
    const found = await overlayTask.run(room, { source, group: null }, report);
    if (!found.ok) return found;
    const { overlays, motion, failed } = found.value;
    const size = {
      widthPt: width,
      heightPt: Math.round(width * RATIO),
      fontPt: 13,
      shows: 'everything',
    } as const;
    const theme = isDark ? darkTheme : lightTheme;
    const draw = (figure: ChartFigure, index: number): string =>
      toSvg(layOut(figure, { theme, size }), { idPrefix: `figure-${index}-` });
    const all = motion === null ? overlays : [...overlays, motion];
    return succeed({ figures: all.map(draw), failed }, found.warnings);
  },
};
