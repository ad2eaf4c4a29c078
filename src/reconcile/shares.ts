import { type EffectModel, evaluatePoints, type Work } from './effect-model.ts';
import { applyResponse, emptyResponse, putResponse, putResponsePoints, type Response } from './response.ts';
import { applyPlan, type SubsetPlan } from './subset-plan.ts';

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

/** The responses of the ledger's lines, which follow from those of the subsets as the shares follow from results. */
export interface LineResponses {
  readonly ideal: Response;
  readonly full: Response;
  /** One output for each effect in each output of the model: outputs × effects. */
  readonly shares: Response;
}

/** Points evaluated between two looks at the signal and two words on the progress. */
const CHUNK = 1024;

/** Values of every output for every subset of the plan at the nominal inputs: subsets × outputs; null outside the domain. */
export function predictSubsets(
  model: EffectModel,
  plan: SubsetPlan,
  inputs: Float64Array,
  work: Work = {},
): Float64Array | null {
  const { subsets } = plan;
  const rows = new Float64Array(subsets.length * inputs.length);
  for (let i = 0; i < subsets.length; i++) rows.set(inputs, i * inputs.length);
  const { outputs, sound } = evaluatePoints(
    model,
    { count: subsets.length, subsets, inputs: rows, together: subsets.length },
    work,
  );
  return sound.every((one) => one === 1) ? outputs : null;
}

/**
 * Measures the second-order response of every subset, and from them those of the lines; null where one leaves the
 * model's domain.
 */
export function measureLineResponses(
  model: EffectModel,
  plan: SubsetPlan,
  work: Work = {},
): LineResponses | null {
  const { effects, outputs, nominal, uncertainties } = model;
  const inputs = nominal.length;
  const count = plan.subsets.length;
  const perSubset = outputs * (1 + 2 * inputs);
  const coefficients = new Float64Array(count * perSubset);
  const atOnce = Math.max(1, Math.floor(CHUNK / (2 * inputs + 1)));
  const points = new Float64Array(atOnce * (2 * inputs + 1) * inputs);
  const subsets = new Uint32Array(atOnce * (2 * inputs + 1));
  for (let first = 0; first < count; first += atOnce) {
    const last = Math.min(count, first + atOnce);
    const begins: number[] = [];
    let rows = 0;
    for (let place = first; place < last; place++) {
      const subset = plan.subsets[place];
      begins.push(rows);
      const isInert = (input: number): boolean => model.isInert(subset, input);
      const made = putResponsePoints(nominal, uncertainties, isInert, points.subarray(rows * inputs));
      subsets.fill(subset, rows, rows + made);
      rows += made;
    }
    const { outputs: values, sound } = evaluatePoints(
      model,
      { count: rows, subsets, inputs: points, together: rows },
      work,
    );
    if (sound.some((one) => one === 0)) return null;
    for (let place = first; place < last; place++) {
      const subset = plan.subsets[place];
      const own = values.subarray(begins[place - first] * outputs);
      const isInert = (input: number): boolean => model.isInert(subset, input);
      putResponse(own, uncertainties, isInert, responseAt(coefficients, place * perSubset, outputs, inputs));
    }
    work.progress?.(last, count);
  }
  const ofShares = new Float64Array(perSubset * effects);
  applyPlan(plan, coefficients, perSubset, ofShares);
  return {
    ideal: responseAt(coefficients, 0, outputs, inputs),
    full: responseAt(coefficients, (count - 1) * perSubset, outputs, inputs),
    shares: shareResponses(ofShares, effects, outputs, inputs),
  };
}

/** A response whose numbers stand in a longer array. */
function responseAt(all: Float64Array, from: number, outputs: number, inputs: number): Response {
  const length = outputs * inputs;
  return {
    outputs,
    inputs,
    centre: all.subarray(from, from + outputs),
    linear: all.subarray(from + outputs, from + outputs + length),
    quadratic: all.subarray(from + outputs + length, from + outputs + 2 * length),
  };
}

/** Shares of each coefficient (coefficients × effects) as responses of each share. */
function shareResponses(ofShares: Float64Array, effects: number, outputs: number, inputs: number): Response {
  const response = emptyResponse(outputs * effects, inputs);
  const length = outputs * inputs;
  for (let output = 0; output < outputs; output++) {
    for (let effect = 0; effect < effects; effect++) {
      const line = output * effects + effect;
      response.centre[line] = ofShares[output * effects + effect];
      for (let input = 0; input < inputs; input++) {
        const linear = outputs + output * inputs + input;
        response.linear[line * inputs + input] = ofShares[linear * effects + effect];
        response.quadratic[line * inputs + input] = ofShares[(linear + length) * effects + effect];
      }
    }
  }
  return response;
}

/** Applies the responses to draws of the inputs (rows of deviations). */
export function drawByResponses(responses: LineResponses, deviations: Float64Array): DrawnShares {
  const follow = (response: Response): Float64Array => {
    const rows = response.inputs === 0 ? 0 : deviations.length / response.inputs;
    const table = new Float64Array(rows * response.outputs);
    applyResponse(response, deviations, table);
    return table;
  };
  return {
    ideal: follow(responses.ideal),
    full: follow(responses.full),
    shares: follow(responses.shares),
    failed: 0,
  };
}

/** Runs the model itself at every draw, all subsets on the same draw. */
export function drawByModel(
  model: EffectModel,
  plan: SubsetPlan,
  deviations: Float64Array,
  work: Work = {},
): DrawnShares {
  const { effects, outputs, nominal } = model;
  const inputs = nominal.length;
  const draws = inputs === 0 ? 0 : deviations.length / inputs;
  const ideal = new Float64Array(draws * outputs);
  const full = new Float64Array(draws * outputs);
  const shares = new Float64Array(draws * outputs * effects);
  const count = plan.subsets.length;
  const atOnce = Math.max(1, Math.floor(CHUNK / count));
  const subsets = new Uint32Array(atOnce * count);
  for (let place = 0; place < atOnce; place++) subsets.set(plan.subsets, place * count);
  const points = new Float64Array(atOnce * count * inputs);
  let failed = 0;
  for (let first = 0; first < draws; first += atOnce) {
    const some = Math.min(atOnce, draws - first);
    for (let place = 0; place < some; place++) {
      const from = (first + place) * inputs;
      const begin = place * count * inputs;
      for (let input = 0; input < inputs; input++)
        points[begin + input] = nominal[input] + deviations[from + input];
      for (let subset = 1; subset < count; subset++) {
        points.copyWithin(begin + subset * inputs, begin, begin + inputs);
      }
    }
    const found = evaluatePoints(
      model,
      { count: some * count, subsets, inputs: points, together: count },
      work,
    );
    for (let place = 0; place < some; place++) {
      const row = (first + place) * outputs;
      const values = found.outputs.subarray(place * count * outputs, (place + 1) * count * outputs);
      const own = shares.subarray(row * effects, (row + outputs) * effects);
      if (found.sound.subarray(place * count, (place + 1) * count).includes(0)) {
        failed += 1;
        ideal.fill(Number.NaN, row, row + outputs);
        full.fill(Number.NaN, row, row + outputs);
        own.fill(Number.NaN);
        continue;
      }
      ideal.set(values.subarray(0, outputs), row);
      full.set(values.subarray((count - 1) * outputs), row);
      applyPlan(plan, values, outputs, own);
    }
    work.progress?.(first + some, draws);
  }
  return { ideal, full, shares, failed };
}
