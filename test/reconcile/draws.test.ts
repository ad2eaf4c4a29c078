import { describe, expect, it } from 'vitest';
import type { EffectModel } from '../../src/reconcile/effect-model.ts';
import { applyResponse, measureResponse } from '../../src/reconcile/response.ts';
import {
  drawByModel,
  drawByResponses,
  measureSubsetResponses,
  predictSubsets,
  sharesOf,
} from '../../src/reconcile/shares.ts';
import { spreadOfColumn } from '../../src/reconcile/spread.ts';

/** Two effects, two uncertain inputs, one output: 10 + a·(on 0) + 3·b·(on 1) + a·b·(both). */
const model: EffectModel = {
  effects: 2,
  outputs: 1,
  nominal: Float64Array.of(2, 1),
  uncertainties: Float64Array.of(0.1, 0.2),
  isInert: (subset, input) => (subset & (1 << input)) === 0,
  predict: each((subset, [a = 0, b = 0]) => {
    const first = (subset & 1) === 0 ? 0 : a;
    const second = (subset & 2) === 0 ? 0 : b;
    return 10 + first + 3 * second + first * second;
  }),
};

/** A model's face for a formula of one point; NaN is outside the domain. */
function each(formula: (subset: number, inputs: Float64Array) => number): EffectModel['predict'] {
  return (points, outputs, sound) => {
    for (const [index, { subset, inputs }] of points.entries()) {
      outputs[index] = formula(subset, inputs);
      sound[index] = Number.isNaN(outputs[index]) ? 0 : 1;
    }
  };
}

/** A grid of deviations whose mean is 0 and whose spread is known. */
const deviations = Float64Array.from(
  [-1, 0, 1].flatMap((a) => [-1, 0, 1].flatMap((b) => [0.1 * a, 0.2 * b])),
);

describe('the second-order response', () => {
  it('is exact for a function of second order without cross terms', () => {
    const evaluate = (inputs: Float64Array, outputs: Float64Array) => {
      outputs[0] = 1 + 2 * inputs[0] - 3 * inputs[1] + 0.5 * inputs[0] ** 2 + 4 * inputs[1] ** 2;
      return true;
    };
    const centre = Float64Array.of(1, -2);
    const response = measureResponse(evaluate, centre, Float64Array.of(0.1, 0.3), 1, () => false);
    expect(response).not.toBeNull();
    if (response === null) return;
    const out = new Float64Array(1);
    const exact = new Float64Array(1);
    for (const [da, db] of [
      [0.05, 0.7],
      [-1, 2],
      [3, -0.1],
    ] as const) {
      applyResponse(response, Float64Array.of(da, db), out);
      evaluate(Float64Array.of(1 + da, -2 + db), exact);
      expect(out[0]).toBeCloseTo(exact[0], 10);
    }
  });

  it('says where an input leaves the domain', () => {
    const evaluate = (inputs: Float64Array, outputs: Float64Array) => {
      outputs[0] = Math.sqrt(inputs[0]);
      return inputs[0] >= 0;
    };
    expect(measureResponse(evaluate, Float64Array.of(0.05), Float64Array.of(0.1), 1, () => false)).toBeNull();
  });

  it('does not evaluate inputs that are inert or exact', () => {
    let calls = 0;
    const evaluate = (inputs: Float64Array, outputs: Float64Array) => {
      calls += 1;
      outputs[0] = inputs[0];
      return true;
    };
    measureResponse(
      evaluate,
      Float64Array.of(1, 2, 3),
      Float64Array.of(0.1, 0.1, 0),
      1,
      (input) => input === 1,
    );
    expect(calls).toBe(3);
  });
});

describe('draws of a model', () => {
  it('give the same shares through responses as through the model, up to the cross term of the inputs', () => {
    const responses = measureSubsetResponses(model);
    expect(responses).not.toBeNull();
    if (responses === null) return;
    const quick = drawByResponses(model, responses, deviations);
    const exact = drawByModel(model, deviations);
    expect(exact.failed).toBe(0);
    for (let index = 0; index < exact.shares.length; index++) {
      // Half of the cross term δa·δb, at most 0.02, goes to each effect.
      expect(Math.abs(exact.shares[index] - quick.shares[index])).toBeLessThanOrEqual(0.0100000001);
    }
    expect(spreadOfColumn(quick.full, 1, 0)).toBeCloseTo(spreadOfColumn(exact.full, 1, 0), 3);
  });

  it('keep every row whole: ideal and shares add up to full on each draw', () => {
    const { ideal, full, shares } = drawByModel(model, deviations);
    for (let row = 0; row < full.length; row++) {
      expect(ideal[row] + shares[2 * row] + shares[2 * row + 1]).toBeCloseTo(full[row], 12);
    }
  });

  it('count draws outside the domain and leave them out of every spread', () => {
    const narrow: EffectModel = {
      ...model,
      predict: each((subset, inputs) => (inputs[0] < 2.05 ? 10 + subset : Number.NaN)),
    };
    const drawn = drawByModel(narrow, deviations);
    expect(drawn.failed).toBe(3);
    expect(Number.isFinite(spreadOfColumn(drawn.full, 1, 0))).toBe(true);
  });

  it('stop where the caller asks for it', () => {
    expect(() => predictSubsets(model, model.nominal, { signal: { aborted: true } })).toThrow('cancelled');
  });

  it('give shares of a linear model that are its terms', () => {
    const linear: EffectModel = {
      ...model,
      predict: each(
        (subset, [a = 0, b = 0]) => 10 + ((subset & 1) === 0 ? 0 : a) + ((subset & 2) === 0 ? 0 : 3 * b),
      ),
    };
    const values = predictSubsets(linear, linear.nominal);
    expect(values === null ? [] : [...sharesOf(values, 2, 1)]).toEqual([2, 3]);
  });
});
