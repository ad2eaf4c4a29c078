import type { TrueRun } from './exact-step.ts';
import { type KnownMotion, rateOf, type TimeFunction } from './known-motion.ts';
import type { RunState } from './state.ts';
import { putTrueColumns } from './true-run.ts';

/**
 * Puts the motion itself in the place of columns of time, position, speed and acceleration.
 *
 * A column that bears the name of a state is that state. Else the position is what the instrument is pointed at, and
 * speed and acceleration are rates of change of the column before them.
 *
 * @param names     of the columns in this order; the first is the time
 * @param positions the position as the instrument's signal tells it, from the signal and the step's own columns; the
 * signal itself where it is left out
 */
export function putExactMotion(
  state: RunState,
  truth: TrueRun,
  instrument: string,
  names: readonly string[],
  positions: (signal: TimeFunction) => TimeFunction = (signal) => signal,
): void {
  const { motion } = truth;
  const signal = motion.signalOf(instrument);
  const columns = new Map<string, TimeFunction>();
  let before: Known | null = signal === null ? null : knownFrom(positions(signal), motion);
  for (const [order, name] of names.slice(1).entries()) {
    if (order > 0) before = before === null ? null : knownFrom(before.rate(), motion);
    const known: Known | null = stateNamed(name, motion) ?? before;
    if (known !== null) columns.set(name, known.value);
    before = known;
  }
  putTrueColumns(state, truth, names[0], columns);
}

/** A signal as a position on the scale of a column that counts from elsewhere: they agree in the first row. */
export function anchored(
  state: RunState,
  time: string,
  position: string,
  scale: number,
): (signal: TimeFunction) => TimeFunction {
  const t = state.columns.get(time)?.values[0] ?? Number.NaN;
  const place = state.columns.get(position)?.values[0] ?? Number.NaN;
  return (signal) => {
    const offset = place - scale * signal(t);
    return (at) => offset + scale * signal(at);
  };
}

interface Known {
  readonly value: TimeFunction;
  rate(): TimeFunction;
}

function knownFrom(value: TimeFunction, motion: KnownMotion): Known {
  return { value, rate: () => rateOf(value, motion) };
}

function stateNamed(name: string, motion: KnownMotion): Known | null {
  const state = motion.stateOf(name);
  return state === null ? null : { value: state.value, rate: () => state.rate };
}
