import { AGREEMENT, CHECK_DRAWS } from './draw-function.ts';
import type { EffectModel, Work } from './effect-model.ts';
import type { LedgerMethod } from './gap-ledger.ts';
import type { Response } from './response.ts';
import { type DrawnShares, drawByModel, drawByResponses, measureLineResponses } from './shares.ts';
import { compareColumns } from './spread.ts';
import type { SubsetPlan } from './subset-plan.ts';

/** Everything that draws of the quantities say of the model, and how it was found. */
export interface Drawn extends DrawnShares {
  readonly method: Omit<LedgerMethod, 'orders'>;
  /** Rows of deviations that were drawn with; fewer than asked for where the model itself was run. */
  readonly rows: number;
  /** Response of the full model, for sensitivities; null where it leaves the domain. */
  readonly fullResponse: Response | null;
}

/** How many rows are used where the model itself is run, and whether it is run there in any case. */
export interface DrawRequest {
  readonly modelDraws: number;
  /** Whether fewer rows will do where many runs are for the general way. */
  readonly mayThinOut: boolean;
  readonly always: boolean;
  /** Rows that were run through the model elsewhere, all of the deviations; null where that is to be done here. */
  readonly done: DrawnShares | null;
}

/** Runs in the general way that a ledger may cost unless a number of draws is asked for. */
const GENERAL_RUNS = 2000;
/** Fewer draws of the model than this say little of a spread. */
const LEAST_DRAWS = 24;

/**
 * Draws through each subset's second-order response where it agrees with the model, else through the model itself.
 *
 * @param deviations one row a draw
 */
export function drawModel(
  model: EffectModel,
  plan: SubsetPlan,
  deviations: Float64Array,
  request: DrawRequest,
  work: Work,
): Drawn {
  const inputs = model.nominal.length;
  const draws = inputs === 0 ? 0 : deviations.length / inputs;
  const responses = measureLineResponses(model, plan, work);
  const fullResponse = responses?.full ?? null;
  let because = request.always ? 'that was asked for' : 'the second-order response disagrees with the model';
  if (responses === null && !request.always) because = 'some settings leave the domain of the model';
  if (responses !== null && !request.always) {
    const quick = drawByResponses(responses, deviations);
    const checked = Math.min(CHECK_DRAWS, draws);
    const sample = drawByModel(model, plan, deviations.subarray(0, checked * inputs), work);
    const worst = worstDisagreement(model, sample, quick);
    if (worst <= AGREEMENT) {
      return {
        ...quick,
        method: {
          kind: 'second-order response',
          draws,
          failed: 0,
          checked,
          worstDisagreement: worst,
          because: 'the second-order response agrees with the model on the draws checked',
        },
        rows: draws,
        fullResponse,
      };
    }
  }
  const rows = request.done === null ? Math.min(draws, rowsFor(model, plan, request)) : draws;
  const drawn = request.done ?? drawByModel(model, plan, deviations.subarray(0, rows * inputs), work);
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

/** Where friction sticks or chains lift, each run may cost as much as hundreds of others: fewer draws must do. */
function rowsFor(model: EffectModel, plan: SubsetPlan, { modelDraws, mayThinOut }: DrawRequest): number {
  const general = (model.generalRunsPerPoint?.() ?? 0) * plan.subsets.length;
  if (!mayThinOut || general === 0) return modelDraws;
  return Math.max(LEAST_DRAWS, Math.min(modelDraws, Math.floor(GENERAL_RUNS / general)));
}

/** Largest disagreement of the two ways, in standard uncertainties of what they give. */
function worstDisagreement(model: EffectModel, exact: DrawnShares, quick: DrawnShares): number {
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
