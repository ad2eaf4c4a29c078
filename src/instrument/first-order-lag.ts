import { exponentOf } from '../wasm/index.ts';
import { type ExponentialWeights, exponentialWeights } from './exponential-weights.ts';
import type { MotionSource } from './source.ts';

/** Largest error of the lagged value, as a share of the signal's range. */
const LAG_TOLERANCE = 1e-8;
const DEEPEST_CUT = 16;

/**
 * What a sensor shows that follows its signal with a first-order lag: τ·y' = signal − y.
 *
 * The sensor has come to rest on the signal before the motion starts. The signal is taken as a quartic between
 * five points, for which the lag is integrated exactly, so a lag much shorter or longer than the interval does
 * no harm; an interval is halved until the quartic and the parabola through its points give the same to about
 * 1e-8 of the signal's range. Begun anew at each break, so jumps are exact.
 *
 * @param lagS τ in s, > 0
 * @param times s, rising, within the motion
 * @returns the lagged signal at these times, in its unit
 */
export function lagSignal(source: MotionSource, lagS: number, times: Float64Array): Float64Array {
  const walk = new LaggedWalk(source, lagS);
  const shown = new Float64Array(times.length);
  for (let i = 0; i < times.length; i++) shown[i] = walk.advanceTo(times[i]);
  return shown;
}

class LaggedWalk {
  readonly #source: MotionSource;
  readonly #lagS: number;
  readonly #tolerance: number;
  /** By interval length: regular sampling meets few of them. */
  readonly #weights = new Map<number, ExponentialWeights>();
  #t: number;
  #signal: number;
  #shown: number;
  #nextBreak = 0;

  constructor(source: MotionSource, lagS: number) {
    this.#source = source;
    this.#lagS = lagS;
    this.#t = source.startS;
    this.#signal = source.valueAt(source.startS);
    this.#shown = this.#signal;
    this.#tolerance = toleranceFor(source);
    while (this.#nextBreak < source.breaks.length && source.breaks[this.#nextBreak] <= source.startS) {
      this.#nextBreak += 1;
    }
  }

  advanceTo(t: number): number {
    const { breaks } = this.#source;
    while (this.#nextBreak < breaks.length && breaks[this.#nextBreak] <= t) {
      const at = breaks[this.#nextBreak];
      this.#cross(at, this.#source.valueBefore(at), 0);
      this.#signal = this.#source.valueAt(at);
      this.#nextBreak += 1;
    }
    if (t > this.#t) {
      const isEnd = t >= this.#source.endS;
      this.#cross(t, isEnd ? this.#source.valueBefore(t) : this.#source.valueAt(t), 0);
    }
    return this.#shown;
  }

  #cross(to: number, signalTo: number, depth: number): void {
    const from = this.#t;
    const length = to - from;
    if (length <= 0) {
      this.#t = to;
      this.#signal = signalTo;
      return;
    }
    const x0 = this.#signal;
    const x1 = this.#source.valueAt(from + 0.25 * length);
    const x2 = this.#source.valueAt(from + 0.5 * length);
    const x3 = this.#source.valueAt(from + 0.75 * length);
    const w = this.#weightsFor(length);
    const quartic =
      w.quartic[0] * x0 + w.quartic[1] * x1 + w.quartic[2] * x2 + w.quartic[3] * x3 + w.quartic[4] * signalTo;
    const parabola = w.parabola[0] * x0 + w.parabola[1] * x2 + w.parabola[2] * signalTo;
    // The quartic is better than the parabola by two orders; a tenth keeps its own error below the tolerance.
    if (Math.abs(quartic - parabola) > 10 * this.#tolerance && depth < DEEPEST_CUT) {
      this.#cross(from + 0.5 * length, x2, depth + 1);
      this.#cross(to, signalTo, depth + 1);
      return;
    }
    this.#shown = w.keeps * this.#shown + quartic;
    this.#t = to;
    this.#signal = signalTo;
  }

  #weightsFor(length: number): ExponentialWeights {
    // Intervals of regular sampling differ by rounding only; 40 bits are kept, far below the tolerance.
    const ratio = length / this.#lagS;
    const scale = 2 ** (39 - exponentOf(ratio));
    const key = Math.round(ratio * scale) / scale;
    let weights = this.#weights.get(key);
    if (weights === undefined) {
      weights = exponentialWeights(key);
      this.#weights.set(key, weights);
    }
    return weights;
  }
}

/** The tolerance in the unit of the signal, never below what rounding of the signal itself leaves. */
function toleranceFor(source: MotionSource): number {
  let lowest = Infinity;
  let highest = -Infinity;
  const look = (value: number): void => {
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  };
  const span = source.endS - source.startS;
  for (let i = 0; i < 16; i++) look(source.valueAt(source.startS + (i / 16) * span));
  look(source.valueBefore(source.endS));
  for (const t of source.breaks) {
    look(source.valueBefore(t));
    look(source.valueAt(t));
  }
  return LAG_TOLERANCE * (highest - lowest) + 1e-15 * Math.max(Math.abs(lowest), Math.abs(highest));
}
