import { adaptStage } from './adapt/index.ts';
import { apparatusStage } from './apparatus/index.ts';
import { classroomStage } from './classroom/index.ts';
import { modelStage } from './model/index.ts';
import { publishStage } from './publish/index.ts';
import { questionStage } from './question/index.ts';
import { reconcileStage } from './reconcile/index.ts';
import { reductionStage } from './reduction/index.ts';
import { rehearseStage } from './rehearse/index.ts';
import type { Stage } from './stage.ts';
import { trialsStage } from './trials/index.ts';

/** The stages of the work, in its order. A new one is a folder and a line here. */
export const stages: readonly Stage[] = [
  questionStage,
  apparatusStage,
  modelStage,
  reductionStage,
  rehearseStage,
  trialsStage,
  reconcileStage,
  adaptStage,
  publishStage,
  classroomStage,
];
