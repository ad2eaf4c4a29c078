import { evaluateRates, type Flow } from './flow.ts';
import { order8 } from './order-8-coefficients.ts';
import type { StepMethod } from './step-method.ts';
import { createStiffnessWatch, noteStiffness, resetStiffnessWatch } from './stiffness.ts';
import type { Tolerances } from './tolerances.ts';

const safety = 0.9;
const leastFactor = 0.2;
const largestFactor = 10;
const exponent = -1 / 8;

const {
  c2,
  c3,
  c4,
  c5,
  c6,
  c7,
  c8,
  c9,
  c10,
  c11,
  c14,
  c15,
  c16,
  a2_1,
  a3_1,
  a3_2,
  a4_1,
  a4_3,
  a5_1,
  a5_3,
  a5_4,
  a6_1,
  a6_4,
  a6_5,
  a7_1,
  a7_4,
  a7_5,
  a7_6,
  a8_1,
  a8_4,
  a8_5,
  a8_6,
  a8_7,
  a9_1,
  a9_4,
  a9_5,
  a9_6,
  a9_7,
  a9_8,
  a10_1,
  a10_4,
  a10_5,
  a10_6,
  a10_7,
  a10_8,
  a10_9,
  a11_1,
  a11_4,
  a11_5,
  a11_6,
  a11_7,
  a11_8,
  a11_9,
  a11_10,
  a12_1,
  a12_4,
  a12_5,
  a12_6,
  a12_7,
  a12_8,
  a12_9,
  a12_10,
  a12_11,
  b1,
  b6,
  b7,
  b8,
  b9,
  b10,
  b11,
  b12,
  a14_1,
  a14_7,
  a14_8,
  a14_9,
  a14_10,
  a14_11,
  a14_12,
  a14_13,
  a15_1,
  a15_6,
  a15_7,
  a15_8,
  a15_11,
  a15_12,
  a15_13,
  a15_14,
  a16_1,
  a16_6,
  a16_7,
  a16_8,
  a16_9,
  a16_13,
  a16_14,
  a16_15,
  e5_1,
  e5_6,
  e5_7,
  e5_8,
  e5_9,
  e5_10,
  e5_11,
  e5_12,
  e3_1,
  e3_6,
  e3_7,
  e3_8,
  e3_9,
  e3_10,
  e3_11,
  e3_12,
  d4_1,
  d4_6,
  d4_7,
  d4_8,
  d4_9,
  d4_10,
  d4_11,
  d4_12,
  d4_13,
  d4_14,
  d4_15,
  d4_16,
  d5_1,
  d5_6,
  d5_7,
  d5_8,
  d5_9,
  d5_10,
  d5_11,
  d5_12,
  d5_13,
  d5_14,
  d5_15,
  d5_16,
  d6_1,
  d6_6,
  d6_7,
  d6_8,
  d6_9,
  d6_10,
  d6_11,
  d6_12,
  d6_13,
  d6_14,
  d6_15,
  d6_16,
  d7_1,
  d7_6,
  d7_7,
  d7_8,
  d7_9,
  d7_10,
  d7_11,
  d7_12,
  d7_13,
  d7_14,
  d7_15,
  d7_16,
} = order8;

/**
 * The explicit pair of order 8, step by step: twelve rates a step, three more for the motion inside it.
 *
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5, II.6
 */
export function createExplicitPair(flow: Flow): StepMethod {
  const { inputs, statesAt, stateCount: n } = flow;
  const timeAt = flow.program.inputs.time;
  const rows = Array.from({ length: 15 }, () => new Float64Array(n));
  const [y, k2, k3, k4, k5, k6, k7, k8, k9, k10, k11, k12, k14, k15, k16] = rows;
  const end = new Float64Array(n);
  const k1 = new Float64Array(n);
  const k13 = new Float64Array(n);
  const last = new Float64Array(n);
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
      const t = now[0];

      for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + h * (a2_1 * k1[i]);
      inputs[timeAt] = t + c2 * h;
      evaluateRates(flow, k2);
      for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + h * (a3_1 * k1[i] + a3_2 * k2[i]);
      inputs[timeAt] = t + c3 * h;
      evaluateRates(flow, k3);
      for (let i = 0; i < n; i++) inputs[statesAt + i] = y[i] + h * (a4_1 * k1[i] + a4_3 * k3[i]);
      inputs[timeAt] = t + c4 * h;
      evaluateRates(flow, k4);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] = y[i] + h * (a5_1 * k1[i] + a5_3 * k3[i] + a5_4 * k4[i]);
      inputs[timeAt] = t + c5 * h;
      evaluateRates(flow, k5);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] = y[i] + h * (a6_1 * k1[i] + a6_4 * k4[i] + a6_5 * k5[i]);
      inputs[timeAt] = t + c6 * h;
      evaluateRates(flow, k6);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] = y[i] + h * (a7_1 * k1[i] + a7_4 * k4[i] + a7_5 * k5[i] + a7_6 * k6[i]);
      inputs[timeAt] = t + c7 * h;
      evaluateRates(flow, k7);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] + h * (a8_1 * k1[i] + a8_4 * k4[i] + a8_5 * k5[i] + a8_6 * k6[i] + a8_7 * k7[i]);
      inputs[timeAt] = t + c8 * h;
      evaluateRates(flow, k8);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h * (a9_1 * k1[i] + a9_4 * k4[i] + a9_5 * k5[i] + a9_6 * k6[i] + a9_7 * k7[i] + a9_8 * k8[i]);
      inputs[timeAt] = t + c9 * h;
      evaluateRates(flow, k9);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h *
            (a10_1 * k1[i] +
              a10_4 * k4[i] +
              a10_5 * k5[i] +
              a10_6 * k6[i] +
              a10_7 * k7[i] +
              a10_8 * k8[i] +
              a10_9 * k9[i]);
      inputs[timeAt] = t + c10 * h;
      evaluateRates(flow, k10);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h *
            (a11_1 * k1[i] +
              a11_4 * k4[i] +
              a11_5 * k5[i] +
              a11_6 * k6[i] +
              a11_7 * k7[i] +
              a11_8 * k8[i] +
              a11_9 * k9[i] +
              a11_10 * k10[i]);
      inputs[timeAt] = t + c11 * h;
      evaluateRates(flow, k11);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h *
            (a12_1 * k1[i] +
              a12_4 * k4[i] +
              a12_5 * k5[i] +
              a12_6 * k6[i] +
              a12_7 * k7[i] +
              a12_8 * k8[i] +
              a12_9 * k9[i] +
              a12_10 * k10[i] +
              a12_11 * k11[i]);
      for (let i = 0; i < n; i++) last[i] = inputs[statesAt + i];
      inputs[timeAt] = t + h;
      evaluateRates(flow, k12);
      for (let i = 0; i < n; i++) {
        const value =
          y[i] +
          h *
            (b1 * k1[i] +
              b6 * k6[i] +
              b7 * k7[i] +
              b8 * k8[i] +
              b9 * k9[i] +
              b10 * k10[i] +
              b11 * k11[i] +
              b12 * k12[i]);
        end[i] = value;
        inputs[statesAt + i] = value;
      }
      evaluateRates(flow, k13);
      let fifth = 0;
      let third = 0;
      let finite = 0;
      const { absolute, relative } = tolerances;
      for (let i = 0; i < n; i++) {
        const scale = absolute[i] + relative * Math.max(Math.abs(y[i]), Math.abs(end[i]));
        const byFifth =
          (e5_1 * k1[i] +
            e5_6 * k6[i] +
            e5_7 * k7[i] +
            e5_8 * k8[i] +
            e5_9 * k9[i] +
            e5_10 * k10[i] +
            e5_11 * k11[i] +
            e5_12 * k12[i]) /
          scale;
        const byThird =
          (e3_1 * k1[i] +
            e3_6 * k6[i] +
            e3_7 * k7[i] +
            e3_8 * k8[i] +
            e3_9 * k9[i] +
            e3_10 * k10[i] +
            e3_11 * k11[i] +
            e3_12 * k12[i]) /
          scale;
        fifth += byFifth * byFifth;
        third += byThird * byThird;
        finite += 0 * k13[i];
      }
      if (fifth === 0 && third === 0) return finite;
      return (Math.abs(h) * fifth) / Math.sqrt((fifth + 0.01 * third) * n) + finite;
    },
    writePiece(piece) {
      const t = now[0];
      const h = now[1];
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h *
            (a14_1 * k1[i] +
              a14_7 * k7[i] +
              a14_8 * k8[i] +
              a14_9 * k9[i] +
              a14_10 * k10[i] +
              a14_11 * k11[i] +
              a14_12 * k12[i] +
              a14_13 * k13[i]);
      inputs[timeAt] = t + c14 * h;
      evaluateRates(flow, k14);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h *
            (a15_1 * k1[i] +
              a15_6 * k6[i] +
              a15_7 * k7[i] +
              a15_8 * k8[i] +
              a15_11 * k11[i] +
              a15_12 * k12[i] +
              a15_13 * k13[i] +
              a15_14 * k14[i]);
      inputs[timeAt] = t + c15 * h;
      evaluateRates(flow, k15);
      for (let i = 0; i < n; i++)
        inputs[statesAt + i] =
          y[i] +
          h *
            (a16_1 * k1[i] +
              a16_6 * k6[i] +
              a16_7 * k7[i] +
              a16_8 * k8[i] +
              a16_9 * k9[i] +
              a16_13 * k13[i] +
              a16_14 * k14[i] +
              a16_15 * k15[i]);
      inputs[timeAt] = t + c16 * h;
      evaluateRates(flow, k16);
      for (let i = 0, c = 0; i < n; i++, c += 8) {
        const change = end[i] - y[i];
        piece[c] = y[i];
        piece[c + 1] = change;
        piece[c + 2] = h * k1[i] - change;
        piece[c + 3] = 2 * change - h * (k13[i] + k1[i]);
        piece[c + 4] =
          h *
          (d4_1 * k1[i] +
            d4_6 * k6[i] +
            d4_7 * k7[i] +
            d4_8 * k8[i] +
            d4_9 * k9[i] +
            d4_10 * k10[i] +
            d4_11 * k11[i] +
            d4_12 * k12[i] +
            d4_13 * k13[i] +
            d4_14 * k14[i] +
            d4_15 * k15[i] +
            d4_16 * k16[i]);
        piece[c + 5] =
          h *
          (d5_1 * k1[i] +
            d5_6 * k6[i] +
            d5_7 * k7[i] +
            d5_8 * k8[i] +
            d5_9 * k9[i] +
            d5_10 * k10[i] +
            d5_11 * k11[i] +
            d5_12 * k12[i] +
            d5_13 * k13[i] +
            d5_14 * k14[i] +
            d5_15 * k15[i] +
            d5_16 * k16[i]);
        piece[c + 6] =
          h *
          (d6_1 * k1[i] +
            d6_6 * k6[i] +
            d6_7 * k7[i] +
            d6_8 * k8[i] +
            d6_9 * k9[i] +
            d6_10 * k10[i] +
            d6_11 * k11[i] +
            d6_12 * k12[i] +
            d6_13 * k13[i] +
            d6_14 * k14[i] +
            d6_15 * k15[i] +
            d6_16 * k16[i]);
        piece[c + 7] =
          h *
          (d7_1 * k1[i] +
            d7_6 * k6[i] +
            d7_7 * k7[i] +
            d7_8 * k8[i] +
            d7_9 * k9[i] +
            d7_10 * k10[i] +
            d7_11 * k11[i] +
            d7_12 * k12[i] +
            d7_13 * k13[i] +
            d7_14 * k14[i] +
            d7_15 * k15[i] +
            d7_16 * k16[i]);
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
      const factor = error === 0 ? largestFactor : safety * error ** exponent;
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
}
