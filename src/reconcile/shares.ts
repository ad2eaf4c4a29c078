import { type EffectModel, type EffectPoint, evaluatePoints, type Work } from './effect-model.ts';
import { applyResponse, type Response, responseFrom, responsePoints } from './response.ts';
import { shapleyShares } from './shapley.ts';

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

/** Points evaluated between two looks at the signal and two words on the progress. */
const CHUNK = 1024;

/** Values of every output for every subset at the nominal inputs: subsets × outputs; null outside the domain. */
export function predictSubsets(
  model: EffectModel,
  inputs: Float64Array,
  work: Work = {},
): Float64Array | null {
  const points = Array.from({ length: 2 ** model.effects }, (_, subset): EffectPoint => ({ subset, inputs }));
  const { outputs, sound } = evaluatePoints(model, points, work);
  return sound.every((one) => one === 1) ? outputs : null;
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
  const subsets = 2 ** model.effects;
  const responses: Response[] = [];
  for (let subset = 0; subset < subsets; subset++) {
    const isInert = (input: number) => model.isInert(subset, input);
    const points = responsePoints(model.nominal, model.uncertainties, isInert);
    const { outputs, sound } = evaluatePoints(
      model,
      points.map((inputs) => ({ subset, inputs })),
      work,
    );
    if (sound.some((one) => one === 0)) return null;
    responses.push(responseFrom(outputs, model.uncertainties, model.outputs, isInert));
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
  const drawn = createRows(model, deviations);
  const values = new Float64Array(responses.length * model.outputs);
  for (let draw = 0; draw < drawn.draws; draw++) {
    const row = deviations.subarray(draw * drawn.inputs, (draw + 1) * drawn.inputs);
    responses.forEach((response, subset) => {
      applyResponse(response, row, values.subarray(subset * model.outputs, (subset + 1) * model.outputs));
    });
    drawn.put(draw, values);
  }
  return drawn.finish();
}

/** Runs the model itself at every draw, all subsets on the same draw. */
export function drawByModel(model: EffectModel, deviations: Float64Array, work: Work = {}): DrawnShares {
  const drawn = createRows(model, deviations);
  const subsets = 2 ** model.effects;
  const atOnce = Math.max(1, Math.floor(CHUNK / subsets));
  for (let first = 0; first < drawn.draws; first += atOnce) {
    const count = Math.min(atOnce, drawn.draws - first);
    const points = Array.from({ length: count }, (_, place) => {
      const from = (first + place) * drawn.inputs;
      return model.nominal.map((value, input) => value + deviations[from + input]);
    }).flatMap((inputs) => Array.from({ length: subsets }, (_, subset): EffectPoint => ({ subset, inputs })));
    const { outputs, sound } = evaluatePoints(model, points, work);
    for (let place = 0; place < count; place++) {
      const from = place * subsets;
      const whole = sound.subarray(from, from + subsets).every((one) => one === 1);
      drawn.put(
        first + place,
        whole ? outputs.subarray(from * model.outputs, (from + subsets) * model.outputs) : null,
      );
    }
    work.progress?.(first + count, drawn.draws);
  }
  return drawn.finish();
}

/** Room for the rows of all draws. */
function createRows(model: EffectModel, deviations: Float64Array) {
  const { effects, outputs } = model;
  const inputs = model.nominal.length;
  const draws = inputs === 0 ? 0 : deviations.length / inputs;
  const ideal = new Float64Array(draws * outputs);
  const full = new Float64Array(draws * outputs);
  const shares = new Float64Array(draws * outputs * effects);
  const last = (1 << effects) - 1;
  let failed = 0;
  return {
    draws,
    inputs,
    /** Takes in the values of one draw, subsets × outputs; null where it left the domain. */
    put(draw: number, values: Float64Array | null): void {
      const row = draw * outputs;
      if (values === null) {
        failed += 1;
        ideal.fill(Number.NaN, row, row + outputs);
        full.fill(Number.NaN, row, row + outputs);
        shares.fill(Number.NaN, row * effects, (row + outputs) * effects);
        return;
      }
      ideal.set(values.subarray(0, outputs), row);
      full.set(values.subarray(last * outputs, (last + 1) * outputs), row);
      shares.set(sharesOf(values, effects, outputs), row * effects);
    },
    finish: (): DrawnShares => ({ ideal, full, shares, failed }),
  };
}
