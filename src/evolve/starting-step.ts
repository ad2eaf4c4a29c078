import { power } from '../wasm/index.ts';
import { evaluateRates, type Flow, writeState } from './flow.ts';
import type { Tolerances } from './tolerances.ts';

/** The error aimed at, of what is allowed, and the inverse order of the pair. */
const aim = 0.01;
const inverseOrder = 1 / 8;
/** Where nothing gives a time scale: a share of the span. */
const shareOfSpan = 1e-3;

export interface StartingStep {
  readonly flow: Flow;
  readonly state: Float64Array;
  readonly rates: Float64Array;
}

export function createStartingStep(flow: Flow): StartingStep {
  return { flow, state: new Float64Array(flow.stateCount), rates: new Float64Array(flow.stateCount) };
}

/**
 * A first step, from the size of the states, of their rates, and of the change of the rates over a short time.
 *
 * After the rule of the source, with times taken in units of the motion's own time scale, so that the first step
 * does not depend on the unit of time, and a state that starts at zero does not force a tiny step.
 *
 * @param firstRates the rates at the start
 * @param spanS the time the motion is to last, or a guess
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.4
 */
export function findStartingStep(
  work: StartingStep,
  t: number,
  y: Float64Array,
  firstRates: Float64Array,
  tolerances: Tolerances,
  spanS: number,
): number {
  const { flow, state, rates } = work;
  const n = flow.stateCount;
  const guess = shareOfSpan * spanS;
  let scale = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    if (y[i] !== 0 && firstRates[i] !== 0) scale = Math.min(scale, Math.abs(y[i] / firstRates[i]));
  }
  const short = 1e-3 * (scale < Number.POSITIVE_INFINITY ? Math.min(scale, spanS) : guess);
  for (let i = 0; i < n; i++) state[i] = y[i] + short * firstRates[i];
  writeState(flow, t + short, state);
  evaluateRates(flow, rates);
  for (let i = 0; i < n; i++) {
    const change = (rates[i] - firstRates[i]) / short;
    if (y[i] !== 0 && change !== 0) scale = Math.min(scale, Math.sqrt(Math.abs(y[i] / change)));
  }
  if (!(scale < Number.POSITIVE_INFINITY)) scale = guess;
  let first = 0;
  let second = 0;
  for (let i = 0; i < n; i++) {
    const rate = firstRates[i] * scale;
    const change = ((rates[i] - firstRates[i]) / short) * scale * scale;
    const allowed = tolerances.absolute[i] + tolerances.relative * (Math.abs(y[i]) + Math.abs(rate));
    first += (rate / allowed) ** 2;
    second += (change / allowed) ** 2;
  }
  const size = Math.sqrt(Math.max(first, second) / n);
  const step = size > 0 ? scale * power(aim / size, inverseOrder) : scale;
  return Number.isFinite(step) && step > 0 ? Math.min(step, scale, spanS) : guess;
}
