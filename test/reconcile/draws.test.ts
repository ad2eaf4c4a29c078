import { describe, expect, it } from 'vitest';
import { drawModel } from '../../src/reconcile/draw-model.ts';
import type { EffectModel } from '../../src/reconcile/effect-model.ts';
import { applyResponse, type EvaluateMany, measureResponse } from '../../src/reconcile/response.ts';
import {
  drawByModel,
  drawByResponses,
  measureLineResponses,
  predictSubsets,
} from '../../src/reconcile/shares.ts';
import { spreadOfColumn } from '../../src/reconcile/spread.ts';
import { applyPlan, planAllOrders } from '../../src/reconcile/subset-plan.ts';

const plan = planAllOrders(2);

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
  return ({ count, subsets, inputs }, outputs, sound) => {
    for (let index = 0; index < count; index++) {
      outputs[index] = formula(subsets[index], inputs.subarray(2 * index, 2 * index + 2));
      sound[index] = Number.isNaN(outputs[index]) ? 0 : 1;
    }
  };
}

/** A grid of deviations whose mean is 0 and whose spread is known. */
const deviations = Float64Array.from(
  [-1, 0, 1].flatMap((a) => [-1, 0, 1].flatMap((b) => [0.1 * a, 0.2 * b])),
);

/** A function of one point, for many; NaN is outside the domain. */
function ofOne(width: number, formula: (inputs: Float64Array) => number): EvaluateMany {
  return (inputs, count, outputs, sound) => {
    for (let row = 0; row < count; row++) {
      outputs[row] = formula(inputs.subarray(row * width, (row + 1) * width));
      sound[row] = Number.isNaN(outputs[row]) ? 0 : 1;
    }
  };
}

describe('the second-order response', () => {
  it('is exact for a function of second order without cross terms', () => {
    const at = (a: number, b: number): number => 1 + 2 * a - 3 * b + 0.5 * a ** 2 + 4 * b ** 2;
    const evaluate = ofOne(2, ([a = 0, b = 0]) => at(a, b));
    const centre = Float64Array.of(1, -2);
    const response = measureResponse(evaluate, centre, Float64Array.of(0.1, 0.3), 1, () => false);
    expect(response).not.toBeNull();
    if (response === null) return;
    const out = new Float64Array(1);
    for (const [da, db] of [
      [0.05, 0.7],
      [-1, 2],
      [3, -0.1],
    ] as const) {
      applyResponse(response, Float64Array.of(da, db), out);
      expect(out[0]).toBeCloseTo(at(1 + da, -2 + db), 10);
    }
  });

  it('says where an input leaves the domain', () => {
    const evaluate = ofOne(1, ([a = 0]) => Math.sqrt(a));
    expect(measureResponse(evaluate, Float64Array.of(0.05), Float64Array.of(0.1), 1, () => false)).toBeNull();
  });

  it('does not evaluate inputs that are inert or exact', () => {
    let calls = 0;
    const evaluate = ofOne(3, ([a = 0]) => {
      calls += 1;
      return a;
    });
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
    const responses = measureLineResponses(model, plan);
    expect(responses).not.toBeNull();
    if (responses === null) return;
    const quick = drawByResponses(responses, deviations);
    const exact = drawByModel(model, plan, deviations);
    expect(exact.failed).toBe(0);
    for (let index = 0; index < exact.shares.length; index++) {
      // Half of the cross term δa·δb, at most 0.02, goes to each effect.
      expect(Math.abs(exact.shares[index] - quick.shares[index])).toBeLessThanOrEqual(0.0100000001);
    }
    expect(spreadOfColumn(quick.full, 1, 0)).toBeCloseTo(spreadOfColumn(exact.full, 1, 0), 3);
  });

  it('keep every row whole: ideal and shares add up to full on each draw', () => {
    const { ideal, full, shares } = drawByModel(model, plan, deviations);
    for (let row = 0; row < full.length; row++) {
      expect(ideal[row] + shares[2 * row] + shares[2 * row + 1]).toBeCloseTo(full[row], 12);
    }
  });

  it('count draws outside the domain and leave them out of every spread', () => {
    const narrow: EffectModel = {
      ...model,
      predict: each((subset, inputs) => (inputs[0] < 2.05 ? 10 + subset : Number.NaN)),
    };
    const drawn = drawByModel(narrow, plan, deviations);
    expect(drawn.failed).toBe(3);
    expect(Number.isFinite(spreadOfColumn(drawn.full, 1, 0))).toBe(true);
  });

  it('stop where the caller asks for it', () => {
    expect(() => predictSubsets(model, plan, model.nominal, { signal: { aborted: true } })).toThrow(
      'cancelled',
    );
  });

  it('give shares of a linear model that are its terms', () => {
    const linear: EffectModel = {
      ...model,
      predict: each(
        (subset, [a = 0, b = 0]) => 10 + ((subset & 1) === 0 ? 0 : a) + ((subset & 2) === 0 ? 0 : 3 * b),
      ),
    };
    const values = predictSubsets(linear, plan, linear.nominal);
    const shares = new Float64Array(2);
    if (values !== null) applyPlan(plan, values, 1, shares);
    expect([...shares]).toEqual([2, 3]);
  });
});

describe('a model that jumps, so that it must be run at every draw', () => {
  const jumping: EffectModel = {
    ...model,
    predict: each((subset, [a = 0, b = 0]) => subset + (a > 2.02 ? 1 : 0) + b),
  };
  const many = Float64Array.from({ length: 400 }, (_, i) => (i % 2 === 0 ? 0.1 : 0.2) * Math.sin(i * i));
  const request = { modelDraws: 128, mayThinOut: true, always: false, done: null };

  it('is run at as many as the ledger takes by itself', () => {
    const { method } = drawModel(jumping, plan, many, request, {});
    expect(method).toMatchObject({ kind: 'draws of the model', draws: 128 });
  });

  it('is run at fewer where each costs much, but at no fewer than 24, and at all that were asked for', () => {
    const costly = (runs: number) => ({ ...jumping, generalRunsPerPoint: () => runs });
    expect(drawModel(costly(10), plan, many, request, {}).method.draws).toBe(50);
    expect(drawModel(costly(1000), plan, many, request, {}).method.draws).toBe(24);
    const asked = { ...request, mayThinOut: false, modelDraws: 200 };
    expect(drawModel(costly(1000), plan, many, asked, {}).method.draws).toBe(200);
  });
});
