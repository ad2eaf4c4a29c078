import { evaluateRates, type Flow } from './flow.ts';
import { order8 } from './order-8-coefficients.ts';
import type { StepLayout } from './whole-step.ts';

/** The weights, under their published symbols. */
const w = order8;

/** A step of the explicit pair: its start and end, and the rates of its stages; each n long. */
export interface ExplicitStages {
  readonly y: Float64Array;
  readonly end: Float64Array;
  /** The state at which stage 12 is taken. */
  readonly last: Float64Array;
  readonly k1: Float64Array;
  readonly k2: Float64Array;
  readonly k3: Float64Array;
  readonly k4: Float64Array;
  readonly k5: Float64Array;
  readonly k6: Float64Array;
  readonly k7: Float64Array;
  readonly k8: Float64Array;
  readonly k9: Float64Array;
  readonly k10: Float64Array;
  readonly k11: Float64Array;
  readonly k12: Float64Array;
  readonly k13: Float64Array;
}

/** The stages, as they stand in the vector that all code reads. */
export function createStages({ inputs, stateCount: n }: Flow, layout: StepLayout): ExplicitStages {
  const numbers = (place: number): Float64Array => inputs.subarray(place, place + n);
  const stage = (s: number): Float64Array => numbers(layout.stage(s));
  return {
    y: numbers(layout.y),
    end: numbers(layout.end),
    last: numbers(layout.last),
    k1: stage(1),
    k2: stage(2),
    k3: stage(3),
    k4: stage(4),
    k5: stage(5),
    k6: stage(6),
    k7: stage(7),
    k8: stage(8),
    k9: stage(9),
    k10: stage(10),
    k11: stage(11),
    k12: stage(12),
    k13: stage(13),
  };
}

/**
 * The motion inside a step of the explicit pair: a polynomial of order 7, by three more rates.
 *
 * @returns a function that describes the step of length h from t whose stages are done; it writes 8 numbers a state, as
 *   `evaluatePiece` reads them
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.6
 */
export function createExtension(
  flow: Flow,
  stages: ExplicitStages,
): (t: number, h: number, piece: Float64Array) => void {
  const { inputs, statesAt, stateCount: n } = flow;
  const timeAt = flow.program.inputs.time;
  const { y, end, k1, k6, k7, k8, k9, k10, k11, k12, k13 } = stages;
  const k14 = new Float64Array(n);
  const k15 = new Float64Array(n);
  const k16 = new Float64Array(n);
  return (t, h, piece) => {
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a14_1 * k1[i] +
            w.a14_7 * k7[i] +
            w.a14_8 * k8[i] +
            w.a14_9 * k9[i] +
            w.a14_10 * k10[i] +
            w.a14_11 * k11[i] +
            w.a14_12 * k12[i] +
            w.a14_13 * k13[i]);
    inputs[timeAt] = t + w.c14 * h;
    evaluateRates(flow, k14);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a15_1 * k1[i] +
            w.a15_6 * k6[i] +
            w.a15_7 * k7[i] +
            w.a15_8 * k8[i] +
            w.a15_11 * k11[i] +
            w.a15_12 * k12[i] +
            w.a15_13 * k13[i] +
            w.a15_14 * k14[i]);
    inputs[timeAt] = t + w.c15 * h;
    evaluateRates(flow, k15);
    for (let i = 0; i < n; i++)
      inputs[statesAt + i] =
        y[i] +
        h *
          (w.a16_1 * k1[i] +
            w.a16_6 * k6[i] +
            w.a16_7 * k7[i] +
            w.a16_8 * k8[i] +
            w.a16_9 * k9[i] +
            w.a16_13 * k13[i] +
            w.a16_14 * k14[i] +
            w.a16_15 * k15[i]);
    inputs[timeAt] = t + w.c16 * h;
    evaluateRates(flow, k16);
    for (let i = 0, c = 0; i < n; i++, c += 8) {
      const change = end[i] - y[i];
      piece[c] = y[i];
      piece[c + 1] = change;
      piece[c + 2] = h * k1[i] - change;
      piece[c + 3] = 2 * change - h * (k13[i] + k1[i]);
      piece[c + 4] =
        h *
        (w.d4_1 * k1[i] +
          w.d4_6 * k6[i] +
          w.d4_7 * k7[i] +
          w.d4_8 * k8[i] +
          w.d4_9 * k9[i] +
          w.d4_10 * k10[i] +
          w.d4_11 * k11[i] +
          w.d4_12 * k12[i] +
          w.d4_13 * k13[i] +
          w.d4_14 * k14[i] +
          w.d4_15 * k15[i] +
          w.d4_16 * k16[i]);
      piece[c + 5] =
        h *
        (w.d5_1 * k1[i] +
          w.d5_6 * k6[i] +
          w.d5_7 * k7[i] +
          w.d5_8 * k8[i] +
          w.d5_9 * k9[i] +
          w.d5_10 * k10[i] +
          w.d5_11 * k11[i] +
          w.d5_12 * k12[i] +
          w.d5_13 * k13[i] +
          w.d5_14 * k14[i] +
          w.d5_15 * k15[i] +
          w.d5_16 * k16[i]);
      piece[c + 6] =
        h *
        (w.d6_1 * k1[i] +
          w.d6_6 * k6[i] +
          w.d6_7 * k7[i] +
          w.d6_8 * k8[i] +
          w.d6_9 * k9[i] +
          w.d6_10 * k10[i] +
          w.d6_11 * k11[i] +
          w.d6_12 * k12[i] +
          w.d6_13 * k13[i] +
          w.d6_14 * k14[i] +
          w.d6_15 * k15[i] +
          w.d6_16 * k16[i]);
      piece[c + 7] =
        h *
        (w.d7_1 * k1[i] +
          w.d7_6 * k6[i] +
          w.d7_7 * k7[i] +
          w.d7_8 * k8[i] +
          w.d7_9 * k9[i] +
          w.d7_10 * k10[i] +
          w.d7_11 * k11[i] +
          w.d7_12 * k12[i] +
          w.d7_13 * k13[i] +
          w.d7_14 * k14[i] +
          w.d7_15 * k15[i] +
          w.d7_16 * k16[i]);
    }
  };
}
