import type { Verb } from './verb.ts';
import { adaptVerb } from './verbs/adapt.ts';
import { checkVerb } from './verbs/check.ts';
import { fitVerb } from './verbs/fit.ts';
import { inferVerb } from './verbs/infer.ts';
import { lessonVerb } from './verbs/lesson.ts';
import { markVerb } from './verbs/mark.ts';
import { newVerb } from './verbs/new.ts';
import { openVerb } from './verbs/open.ts';
import { predictVerb } from './verbs/predict.ts';
import { publishVerb } from './verbs/publish.ts';
import { quantitiesVerb } from './verbs/quantities.ts';
import { reconcileVerb } from './verbs/reconcile.ts';
import { reduceVerb } from './verbs/reduce.ts';
import { rehearseVerb } from './verbs/rehearse.ts';
import { stationsVerb } from './verbs/stations.ts';
import { stepsVerb } from './verbs/steps.ts';

/** The verbs, in the order in which a lab is developed. A new verb is one file and one line here. */
export const verbs: readonly Verb[] = [
  openVerb,
  newVerb,
  checkVerb,
  predictVerb,
  stepsVerb,
  rehearseVerb,
  reduceVerb,
  reconcileVerb,
  inferVerb,
  adaptVerb,
  stationsVerb,
  lessonVerb,
  markVerb,
  publishVerb,
  quantitiesVerb,
  fitVerb,
];
