import { type ChartFigure, validityFigure } from '../../src/figure/index.ts';
import type { Pipeline } from '../../src/lab/index.ts';
import { allEffects, type RunGroup, valuesOfGroup } from '../../src/run/index.ts';
import { WORDING } from './wording.ts';

/**
 * The motion under the settings of a group, with every effect, and where the model holds.
 *
 * @returns null for a relation, and where the motion cannot be worked out
 */
export function motionFigure(pipeline: Pipeline, group: RunGroup | undefined): ChartFigure | null {
  const { lab } = pipeline;
  if (lab.model.kind !== 'motion' || group === undefined) return null;
  const run = pipeline.simulate(valuesOfGroup(pipeline, pipeline.nominal, group, allEffects(lab)));
  if (!run.ok || run.value.motion === null) return null;
  return validityFigure(run.value.motion, lab.model.model, WORDING);
}
