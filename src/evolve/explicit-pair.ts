import { createExtension, createStages } from './explicit-extension.ts';
import { evaluateRates, type Flow } from './flow.ts';
import { order8 } from './order-8-coefficients.ts';
import type { StepMethod } from './step-method.ts';
import { createStiffnessWatch, noteStiffness, resetStiffnessWatch } from './stiffness.ts';
import type { Tolerances } from './tolerances.ts';
import { layOutStep, wholeStepOf } from './whole-step.ts';

const safety = 0.9;
const leastFactor = 0.2;
const largestFactor = 10;

/** The weights, under their published symbols. */
const w = order8;

/**
 * The explicit pair of order 8, step by step: twelve rates a step, three more for the motion inside it.
 *
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5, II.6
 */
export function createExplicitPair(flow: Flow): StepMethod {
  const { inputs, statesAt, stateCount: n } = flow;
  const timeAt = flow.program.inputs.time;
  const layout = layOutStep(flow.program);
  const stages = createStages(flow, layout);
  const { y, end, last, k1, k2, k3, k4, k5, k6, k7, k8, k9, k10, k11, k12, k13 } = stages;
  const extend = createExtension(flow, stages);
  const results = inputs.subarray(layout.stage(2));
  const stiffness = createStiffnessWatch();
  let tolerances: Tolerances = { relative: 0, absolute: new Float64Array(n), follows: false };
  const now = new Float64Array(2);

  return {
    name: 'explicit Runge–Kutta pair of order 8',
    startRates: k1,
    end,
    endRates: k13,
    begin(t, start, allowed) {
      tolerances = allowed;
      now[0] = t;
      inputs[timeAt] = t;
      for (let i = 0; i < n; i++) {
        y[i] = start[i];
        inputs[statesAt + i] = start[i];
      }
      evaluateRates(flow, k1);
      resetStiffnessWatch(stiffness);
    },
    attempt(h) {
      now[1] = h;
      const whole = flow.stickingCount === 0 ? wholeStepOf(flow.program) : null;
      if (whole === null) takeStages(h);
      else {
        inputs[layout.t] = now[0];
        inputs[layout.h] = h;
        whole.attempt(inputs, results);
        flow.evaluations += 12;
        inputs[timeAt] = now[0] + h;
        for (let i = 0; i < n; i++) inputs[statesAt + i] = end[i];
      }
      return measureError(h);
    },
    writePiece(piece) {
      const whole = flow.stickingCount === 0 ? wholeStepOf(flow.program) : null;
      if (whole === null) extend(now[0], now[1], piece);
      else {
        inputs[layout.t] = now[0];
        inputs[layout.h] = now[1];
        whole.extend(inputs, piece);
        flow.evaluations += 3;
      }
      return 8;
    },
    advance() {
      now[0] += now[1];
      for (let i = 0; i < n; i++) {
        y[i] = end[i];
        k1[i] = k13[i];
      }
    },
    proposeStep(h, error, accepted) {
      if (Number.isNaN(error)) return h * leastFactor;
      const factor = error === 0 ? largestFactor : safety / Math.sqrt(Math.sqrt(Math.sqrt(error)));
      return h * Math.min(accepted ? largestFactor : 1, Math.max(leastFactor, factor));
    },
    wantsChange(h) {
      let rates = 0;
      let states = 0;
      for (let i = 0; i < n; i++) {
        const rate = k13[i] - k12[i];
        const state = end[i] - last[i];
        rates += rate * rate;
        states += state * state;
      }
      return noteStiffness(stiffness, states > 0 ? h * Math.sqrt(rates / states) : 0);
    },
  };

  /** Takes the stages one by one. */
  function takeStages(h: number): void {
    const t = now[0];
    for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + h * (w.a2_1 * k1[i]);
    inputs[timeAt] = t + w.c2 * h;
    evaluateRates(flow, k2);
    for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + h * (w.a3_1 * k1[i] + w.a3_2 * k2[i]);
    inputs[timeAt] = t + w.c3 * h;
    evaluateRates(flow, k3);
    for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + h * (w.a4_1 * k1[i] + w.a4_3 * k3[i]);
    inputs[timeAt] = t + w.c4 * h;
    evaluateRates(flow, k4);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] = y[i] + h * (w.a5_1 * k1[i] + w.a5_3 * k3[i] + w.a5_4 * k4[i]);
    inputs[timeAt] = t + w.c5 * h;
    evaluateRates(flow, k5);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] = y[i] + h * (w.a6_1 * k1[i] + w.a6_4 * k4[i] + w.a6_5 * k5[i]);
    inputs[timeAt] = t + w.c6 * h;
    evaluateRates(flow, k6);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] = y[i] + h * (w.a7_1 * k1[i] + w.a7_4 * k4[i] + w.a7_5 * k5[i] + w.a7_6 * k6[i]);
    inputs[timeAt] = t + w.c7 * h;
    evaluateRates(flow, k7);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] + h * (w.a8_1 * k1[i] + w.a8_4 * k4[i] + w.a8_5 * k5[i] + w.a8_6 * k6[i] + w.a8_7 * k7[i]);
    inputs[timeAt] = t + w.c8 * h;
    evaluateRates(flow, k8);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a9_1 * k1[i] +
            w.a9_4 * k4[i] +
            w.a9_5 * k5[i] +
            w.a9_6 * k6[i] +
            w.a9_7 * k7[i] +
            w.a9_8 * k8[i]);
    inputs[timeAt] = t + w.c9 * h;
    evaluateRates(flow, k9);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a10_1 * k1[i] +
            w.a10_4 * k4[i] +
            w.a10_5 * k5[i] +
            w.a10_6 * k6[i] +
            w.a10_7 * k7[i] +
            w.a10_8 * k8[i] +
            w.a10_9 * k9[i]);
    inputs[timeAt] = t + w.c10 * h;
    evaluateRates(flow, k10);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a11_1 * k1[i] +
            w.a11_4 * k4[i] +
            w.a11_5 * k5[i] +
            w.a11_6 * k6[i] +
            w.a11_7 * k7[i] +
            w.a11_8 * k8[i] +
            w.a11_9 * k9[i] +
            w.a11_10 * k10[i]);
    inputs[timeAt] = t + w.c11 * h;
    evaluateRates(flow, k11);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a12_1 * k1[i] +
            w.a12_4 * k4[i] +
            w.a12_5 * k5[i] +
            w.a12_6 * k6[i] +
            w.a12_7 * k7[i] +
            w.a12_8 * k8[i] +
            w.a12_9 * k9[i] +
            w.a12_10 * k10[i] +
            w.a12_11 * k11[i]);
    for (let i = 0; i < n; i++) last[i] = inputs[statesAt + i];
    inputs[timeAt] = t + h;
    evaluateRates(flow, k12);
    for (let i = 0; i < n; i++) {
      const value =
        y[i] +
        h *
          (w.b1 * k1[i] +
            w.b6 * k6[i] +
            w.b7 * k7[i] +
            w.b8 * k8[i] +
            w.b9 * k9[i] +
            w.b10 * k10[i] +
            w.b11 * k11[i] +
            w.b12 * k12[i]);
      end[i] = value;
      inputs[statesAt + i] = value;
    }
    evaluateRates(flow, k13);
  }

  /** Error of the step over what is allowed. */
  function measureError(h: number): number {
    let fifth = 0;
    let third = 0;
    let finite = 0;
    const { absolute, relative } = tolerances;
    for (let i = 0; i < n; i++) {
      const scale = absolute[i] + relative * Math.max(Math.abs(y[i]), Math.abs(end[i]));
      const byFifth =
        (w.e5_1 * k1[i] +
          w.e5_6 * k6[i] +
          w.e5_7 * k7[i] +
          w.e5_8 * k8[i] +
          w.e5_9 * k9[i] +
          w.e5_10 * k10[i] +
          w.e5_11 * k11[i] +
          w.e5_12 * k12[i]) /
        scale;
      const byThird =
        (w.e3_1 * k1[i] +
          w.e3_6 * k6[i] +
          w.e3_7 * k7[i] +
          w.e3_8 * k8[i] +
          w.e3_9 * k9[i] +
          w.e3_10 * k10[i] +
          w.e3_11 * k11[i] +
          w.e3_12 * k12[i]) /
        scale;
      fifth += byFifth * byFifth;
      third += byThird * byThird;
      finite += 0 * k13[i];
    }
    if (fifth === 0 && third === 0) return finite;
    return (Math.abs(h) * fifth) / Math.sqrt((fifth + 0.01 * third) * n) + finite;
  }
}
