import { evaluateRates, type Flow, hold } from './flow.ts';

const change = Math.sqrt(Number.EPSILON);

/** Work space for a Jacobian by differences. */
export interface JacobianWork {
  readonly base: Float64Array;
  readonly shifted: Float64Array;
}

/**
 * The n × n derivatives of the rates by the states, row-major, at the time and state in the inputs.
 *
 * Exact; by differences while a dry friction sticks, since what it holds changes with the state too, and where the
 * exact ones have no formula.
 *
 * @param scales a small, sure size of each state, for the differences
 */
export function evaluateJacobian(
  flow: Flow,
  out: Float64Array,
  scales: Float64Array,
  work: JacobianWork,
): void {
  const exact = flow.stickingCount === 0 ? flow.program.jacobian() : null;
  if (exact !== null) {
    exact(flow.inputs, out);
    return;
  }
  const { inputs, statesAt, stateCount: n } = flow;
  const { base, shifted } = work;
  evaluateRates(flow, base);
  for (let k = 0; k < n; k++) {
    const value = inputs[statesAt + k];
    const size = Math.max(Math.abs(value), scales[k]);
    inputs[statesAt + k] = value + change * size;
    const step = inputs[statesAt + k] - value;
    evaluateRates(flow, shifted);
    inputs[statesAt + k] = value;
    for (let i = 0; i < n; i++) out[i * n + k] = (shifted[i] - base[i]) / step;
  }
  if (flow.stickingCount > 0) hold(flow);
}
