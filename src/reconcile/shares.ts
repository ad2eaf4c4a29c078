import { applyResponse, type Evaluate, measureResponse, type Response } from './response.ts';
import { shapleyShares } from './shapley.ts';

/** A model with k effects and m uncertain inputs, seen as nothing but numbers. */
export interface EffectModel {
  /** k. */
  readonly effects: number;
  /** Number of outputs. */
  readonly outputs: number;
  /** m nominal inputs. */
  readonly nominal: Float64Array;
  /** m standard uncertainties. */
  readonly uncertainties: Float64Array;
  /** Outputs with the subset of effects switched on (bit i: effect i) at the inputs; false outside the domain. */
  predict(subset: number, inputs: Float64Array, outputs: Float64Array): boolean;
  /** True where no output can depend on an input while the subset is on, as of a quantity that is set by "off". */
  isInert(subset: number, input: number): boolean;
}

/** All that the draws say of one model: one row a draw. */
export interface DrawnShares {
  /** draws × outputs. */
  readonly ideal: Float64Array;
  /** draws × outputs. */
  readonly full: Float64Array;
  /** draws × outputs × effects. */
  readonly shares: Float64Array;
  /** Draws that left the model's domain: their rows are NaN and count for nothing, but are reported. */
  readonly failed: number;
}

/** What the ledger waits for or reports: how much is done, and whether to stop. */
export interface Work {
  readonly progress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

/** Thrown where the caller asked to stop; the caller who asked catches it. */
export class Cancelled extends Error {
  constructor() {
    super('The computation was cancelled.');
    this.name = 'Cancelled';
  }
}

/** Values of every output for every subset at the nominal inputs: subsets × outputs; null outside the domain. */
export function predictSubsets(
  model: EffectModel,
  inputs: Float64Array,
  work: Work = {},
): Float64Array | null {
  const subsets = 1 << model.effects;
  const values = new Float64Array(subsets * model.outputs);
  for (let subset = 0; subset < subsets; subset++) {
    if (work.signal?.aborted) throw new Cancelled();
    if (!model.predict(subset, inputs, values.subarray(subset * model.outputs, (subset + 1) * model.outputs)))
      return null;
  }
  return values;
}

/** Shares of every effect in every output: outputs × effects. */
export function sharesOf(values: Float64Array, effects: number, outputs: number): Float64Array {
  const subsets = 1 << effects;
  const ofOne = new Float64Array(subsets);
  const shares = new Float64Array(outputs * effects);
  for (let output = 0; output < outputs; output++) {
    for (let subset = 0; subset < subsets; subset++) ofOne[subset] = values[subset * outputs + output];
    shapleyShares(ofOne, effects, shares.subarray(output * effects, (output + 1) * effects));
  }
  return shares;
}

/** Measures the second-order response of every subset; null where one leaves the model's domain. */
export function measureSubsetResponses(model: EffectModel, work: Work = {}): readonly Response[] | null {
  const subsets = 1 << model.effects;
  const responses: Response[] = [];
  for (let subset = 0; subset < subsets; subset++) {
    if (work.signal?.aborted) throw new Cancelled();
    const evaluate: Evaluate = (inputs, outputs) => model.predict(subset, inputs, outputs);
    const response = measureResponse(evaluate, model.nominal, model.uncertainties, model.outputs, (input) =>
      model.isInert(subset, input),
    );
    if (response === null) return null;
    responses.push(response);
    work.progress?.(subset + 1, subsets);
  }
  return responses;
}

/** Applies the responses to draws of the inputs (rows of deviations): the same draw for every subset. */
export function drawByResponses(
  model: EffectModel,
  responses: readonly Response[],
  deviations: Float64Array,
): DrawnShares {
  const values = new Float64Array(responses.length * model.outputs);
  return collectDraws(model, deviations, (row) => {
    responses.forEach((response, subset) => {
      applyResponse(response, row, values.subarray(subset * model.outputs, (subset + 1) * model.outputs));
    });
    return values;
  });
}

/** Runs the model itself at every draw, all subsets on the same draw. */
export function drawByModel(model: EffectModel, deviations: Float64Array, work: Work = {}): DrawnShares {
  const inputs = new Float64Array(model.nominal.length);
  const total = deviations.length / Math.max(inputs.length, 1);
  let done = 0;
  return collectDraws(model, deviations, (row) => {
    for (let input = 0; input < inputs.length; input++) inputs[input] = model.nominal[input] + row[input];
    const values = predictSubsets(model, inputs, work);
    done += 1;
    work.progress?.(done, total);
    return values;
  });
}

function collectDraws(
  model: EffectModel,
  deviations: Float64Array,
  valuesAt: (row: Float64Array) => Float64Array | null,
): DrawnShares {
  const { effects, outputs } = model;
  const inputs = model.nominal.length;
  const draws = inputs === 0 ? 0 : deviations.length / inputs;
  const ideal = new Float64Array(draws * outputs);
  const full = new Float64Array(draws * outputs);
  const shares = new Float64Array(draws * outputs * effects);
  const last = (1 << effects) - 1;
  let failed = 0;
  for (let draw = 0; draw < draws; draw++) {
    const values = valuesAt(deviations.subarray(draw * inputs, (draw + 1) * inputs));
    const row = draw * outputs;
    if (values === null) {
      failed += 1;
      ideal.fill(Number.NaN, row, row + outputs);
      full.fill(Number.NaN, row, row + outputs);
      shares.fill(Number.NaN, row * effects, (row + outputs) * effects);
      continue;
    }
    ideal.set(values.subarray(0, outputs), row);
    full.set(values.subarray(last * outputs, (last + 1) * outputs), row);
    shares.set(sharesOf(values, effects, outputs), row * effects);
  }
  return { ideal, full, shares, failed };
}
