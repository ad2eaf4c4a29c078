import type { Course } from './course.ts';
import { evaluateRates, sticks, writeState } from './flow.ts';

/** A rate below this share of its largest size so far is rounding. */
const restShare = 1e-12;

/**
 * Whether nothing moves and nothing can ever change: all rates are zero, and the model does not look at the time.
 *
 * Time and state are `t` and `course.state`.
 */
export function restsForEver(course: Course, t: number): boolean {
  const { program, flow, state, rates, largestRates } = course;
  if (!program.autonomous) return false;
  writeState(flow, t, state);
  noteFreeRates(course);
  evaluateRates(flow, rates);
  for (let i = 0; i < rates.length; i++) {
    if (!(Math.abs(rates[i]) <= restShare * largestRates[i])) return false;
  }
  return true;
}

/** What the rates would be if no friction held: the size against which their rest is rounding. */
function noteFreeRates(course: Course): void {
  const { program, flow, rates } = course;
  if (flow.stickingCount === 0) return;
  const { holdings } = program.inputs;
  for (let i = 0; i < flow.modes.length; i++) if (flow.modes[i] === sticks) flow.inputs[holdings + i] = 0;
  program.rates(flow.inputs, rates);
  raise(course.largestRates, rates);
}

/** Notes how large states and rates have become. */
export function noteSizes(course: Course, rates: Float64Array): void {
  raise(course.largestStates, course.state);
  raise(course.largestRates, rates);
}

function raise(largest: Float64Array, values: Float64Array): void {
  for (let i = 0; i < values.length; i++) {
    const size = Math.abs(values[i]);
    if (size > largest[i]) largest[i] = size;
  }
}
