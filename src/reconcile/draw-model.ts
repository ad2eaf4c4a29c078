import type { Work } from './effect-model.ts';
import type { LedgerMethod } from './gap-ledger.ts';
import type { LabEffectModel } from './lab-model.ts';
import type { Response } from './response.ts';
import { type DrawnShares, drawByModel, drawByResponses, measureSubsetResponses } from './shares.ts';
import { compareColumns } from './spread.ts';

/** Draws on which the quick way is compared with the model itself. */
export const CHECK_DRAWS = 12;

/** The quick way stands where it is within this share of the uncertainty it gives, at every check. */
export const AGREEMENT = 0.2;

/** Everything that draws of the quantities say of the model, and how it was found. */
export interface Drawn extends DrawnShares {
  readonly method: LedgerMethod;
  /** Rows of deviations that were drawn with; fewer than asked for where the model itself was run. */
  readonly rows: number;
  /** Response of the full model, for sensitivities; null where it leaves the domain. */
  readonly fullResponse: Response | null;
}

/**
 * Draws through each subset's second-order response where it agrees with the model, else through the model itself.
 *
 * @param deviations one row a draw
 * @param modelDraws how many rows are used where the model itself is run
 */
export function drawModel(
  model: LabEffectModel,
  deviations: Float64Array,
  modelDraws: number,
  work: Work,
): Drawn {
  const inputs = model.nominal.length;
  const draws = inputs === 0 ? 0 : deviations.length / inputs;
  const responses = measureSubsetResponses(model, work);
  const fullResponse = responses?.[responses.length - 1] ?? null;
  if (responses !== null) {
    const quick = drawByResponses(model, responses, deviations);
    const sample = deviations.subarray(0, Math.min(CHECK_DRAWS, draws) * inputs);
    const worst = worstDisagreement(model, drawByModel(model, sample, work), quick);
    if (worst <= AGREEMENT) {
      const because = 'the second-order response agrees with the model on the draws checked';
      const method: LedgerMethod = {
        kind: 'second-order response',
        draws,
        failed: 0,
        checked: Math.min(CHECK_DRAWS, draws),
        worstDisagreement: worst,
        because,
      };
      return { ...quick, method, rows: draws, fullResponse };
    }
  }
  const rows = Math.min(draws, modelDraws);
  const drawn = drawByModel(model, deviations.subarray(0, rows * inputs), work);
  const because =
    responses === null
      ? 'some settings leave the domain of the model'
      : 'the second-order response disagrees with the model';
  return {
    ...drawn,
    method: {
      kind: 'draws of the model',
      draws: rows,
      failed: drawn.failed,
      checked: 0,
      worstDisagreement: 0,
      because,
    },
    rows,
    fullResponse,
  };
}

/** Largest disagreement of the two ways, in standard uncertainties of what they give. */
function worstDisagreement(model: LabEffectModel, exact: DrawnShares, quick: DrawnShares): number {
  let worst = exact.failed > 0 ? Number.POSITIVE_INFINITY : 0;
  for (let output = 0; output < model.outputs; output++) {
    const full = compareColumns(exact.full, quick.full, model.outputs, output);
    // A share that hardly varies need not be known better than the total it is part of.
    const scale = full.spread;
    if (full.difference > 0) worst = Math.max(worst, full.difference / scale);
    for (let effect = 0; effect < model.effects; effect++) {
      const share = compareColumns(
        exact.shares,
        quick.shares,
        model.outputs * model.effects,
        output * model.effects + effect,
      );
      if (share.difference > 0)
        worst = Math.max(worst, share.difference / Math.max(share.spread, 0.2 * scale));
    }
  }
  return worst;
}
