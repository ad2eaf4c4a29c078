import type { ChartFigure } from '../../../src/figure/index.ts';
import { withValues } from '../../../src/lab/index.ts';
import type { Outcome } from '../../../src/problem/index.ts';
import { succeed } from '../../../src/problem/index.ts';
import { groupRuns, mainGroup } from '../../../src/run/index.ts';
import { openForHand } from '../in-hand.ts';
import { motionFigure } from '../motion-figure.ts';
import type { LabSource } from '../source.ts';
import type { Task } from '../task.ts';

export interface MotionQuestion {
  readonly source: LabSource;
}

export interface MotionAnswer {
  /** Null for a relation, which has no motion in time. */
  readonly figure: ChartFigure | null;
}

/** The motion under the lab's own settings, as the hand has them this moment. */
export const motionTask: Task<MotionQuestion, MotionAnswer> = {
  async run(room, { source }): Promise<Outcome<MotionAnswer>> {
    const found = await openForHand(room, source);
    if (!found.ok) return found;
    const { opened, values } = found.value;
    const groups = groupRuns(opened.lab, opened.trials);
    const pipeline = withValues(opened.pipeline, values);
    return succeed({ figure: motionFigure(pipeline, groups[mainGroup(groups, pipeline.lab)]) });
  },
};
