import { localPolynomialWeights } from './local-polynomial.ts';

/** A function of time (s), in SI. */
export type TimeFunction = (t: number) => number;

/** What is known of a simulated run beside its readings: the motion that they were taken of. */
export interface KnownMotion {
  readonly startS: number;
  readonly endS: number;
  /** Times (s) at which a state or a signal may jump or bend. */
  readonly breaks: Float64Array;
  /** A state of the model and its rate of change; null where the model has none of this name. */
  stateOf(name: string): { readonly value: TimeFunction; readonly rate: TimeFunction } | null;
  /** What an instrument is pointed at; null where that is not one signal. */
  signalOf(instrument: string): TimeFunction | null;
}

/** Nodes of the finite differences on either side, and their distance as a share of the motion. */
const REACH = 2;
const STEP = 5e-4;

/** Keeps the nodes off the far side of a break, as a share of the motion. */
const CLEARANCE = 1e-9;

const ONES = new Float64Array(2 * REACH + 1).fill(1);

/**
 * The rate of change of a function of time, by the quartic through five of its values.
 *
 * The nodes stay between the breaks on either side of the time, and within the motion.
 */
export function rateOf(value: TimeFunction, { startS, endS, breaks }: KnownMotion): TimeFunction {
  const span = endS - startS;
  return (t) => {
    let from = startS;
    let to = endS;
    for (const each of breaks) {
      if (each <= t) from = Math.max(from, each);
      else to = Math.min(to, each - CLEARANCE * span);
    }
    const step = Math.min(STEP * span, (to - from) / (2 * REACH));
    const middle = Math.min(Math.max(t, from + REACH * step), to - REACH * step);
    const places = Float64Array.from(ONES, (_, i) => (middle - t) / step + i - REACH);
    const weights = localPolynomialWeights(places, ONES, 2 * REACH, 1);
    let sum = 0;
    for (let i = 0; i < places.length; i++) sum += weights[i] * value(t + places[i] * step);
    return sum / step;
  };
}
