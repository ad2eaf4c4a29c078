import { randomSource } from '../inference/index.ts';
import type { Pipeline, TrialRun } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { groupRuns, listOutputs, mainGroup } from '../run/index.ts';
import { type Analysis, measureGroupShifts } from './analysis.ts';
import { drawDeviations } from './draw-deviations.ts';
import { drawModel } from './draw-model.ts';
import type { Work } from './effect-model.ts';
import { followMeasurement } from './follow-measurement.ts';
import type { Reconciliation } from './gap-ledger.ts';
import { createLabModel, type LabEffectModel } from './lab-model.ts';
import { measureOutputs } from './measured.ts';
import { measureRunChance } from './run-chance.ts';
import { predictSubsets } from './shares.ts';
import { writeLedgers } from './write-ledgers.ts';

export interface ReconcileOptions extends Work {
  /**
   * Draws of the uncertain quantities; where left out, 1000 through the second-order response, or 128 through the
   * model itself where the response does not stand.
   */
  readonly draws?: number;
  readonly seed?: number;
}

/** Draws through the second-order response, which cost next to nothing. */
const RESPONSE_DRAWS = 1000;

/** Draws of the model itself where the quick way does not stand: each costs one run a subset and a group. */
const MODEL_DRAWS = 128;

/** More effects than this have more subsets than can be run in a sensible time. */
const MOST_EFFECTS = 12;

/**
 * The gap ledger of every result: what each effect explains of the gap between ideal theory and measurement, and
 * what remains, with uncertainties from common quasi-random draws of all uncertain quantities.
 *
 * Every subset of effects is run at the author's values, so the lines add up exactly. The draws go through each
 * subset's second-order response, checked on some draws against the model itself; where they disagree, or a response
 * leaves the model's domain, the model is run at every draw.
 *
 * @returns one ledger a result and group of settings, or the problems that prevent it
 */
export function reconcile(
  pipeline: Pipeline,
  trials: readonly TrialRun[],
  options: ReconcileOptions = {},
): Outcome<Reconciliation> {
  const { lab } = pipeline;
  if (lab.effects.length > MOST_EFFECTS) {
    return fail(
      problem(
        'too-many-effects',
        { file: lab.file },
        `The lab has ${lab.effects.length} effects; a ledger runs every subset of them and takes at most ${MOST_EFFECTS}.`,
        'Join effects that belong together.',
      ),
    );
  }
  const groups = groupRuns(lab, trials);
  const outputs = listOutputs(lab, groups);
  if (outputs.length === 0) {
    return fail(
      problem(
        'no-results',
        { file: lab.file },
        'The lab names no results, so there is nothing to compare.',
        'Add "results" to the lab file.',
      ),
    );
  }
  const measured = measureOutputs(pipeline, groups, outputs);
  if (!measured.ok) return measured;
  const model = createLabModel(pipeline, groups, outputs);
  const subsets = predictSubsets(model, model.nominal, options);
  if (subsets === null) return fail(...firstProblem(model));
  const random = randomSource(options.seed ?? 1);
  const drawing = drawDeviations(lab, model.uncertain, options.draws ?? RESPONSE_DRAWS, random);
  if (!drawing.ok) return drawing;
  const deviations = drawing.value;
  const drawn = drawModel(model, deviations, options.draws ?? MODEL_DRAWS, options);
  const stepShifts = measureGroupShifts(pipeline, groups);
  if (!stepShifts.ok) return stepShifts;
  const chance = measureRunChance(pipeline, groups, outputs, model);
  if (!chance.ok) return chance;
  const analysis: Analysis = {
    pipeline,
    groups,
    outputs,
    model,
    subsets,
    drawn,
    deviations,
    measured: measured.value,
    chance: chance.value,
    stepShifts: stepShifts.value,
  };
  const ledgers = writeLedgers(analysis, followMeasurement(analysis));
  const own = mainGroup(groups);
  const main = new Map<string, number>();
  outputs.forEach(({ result, group }, index) => {
    if (group === null || group === own) main.set(result.name, index);
  });
  return succeed({ ledgers, main, method: drawn.method }, measured.warnings);
}

function firstProblem(model: LabEffectModel): readonly Problem[] {
  const found = model.firstProblem();
  return [found ?? problem('not-finite', {}, 'A result of the model is not a finite number.')];
}
