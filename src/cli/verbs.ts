import type { Verb } from './verb.ts';
import { predictVerb } from './verbs/predict.ts';
import { reconcileVerb } from './verbs/reconcile.ts';

/** The verbs, in the order in which a lab is developed. A new verb is one file and one line here. */
export const verbs: readonly Verb[] = [predictVerb, reconcileVerb];
