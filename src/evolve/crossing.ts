import { type Flow, hold, holdsConstant, isOff, sticks } from './flow.ts';
import { evaluatePiece } from './piece.ts';
import { findSignChange } from './root.ts';
import { largestPieceTerms } from './step-method.ts';

/** No crossing: a place behind the end of every step. */
export const noCrossing = 2;
/** Places in a step are found to this share of it. */
const placeTolerance = 1e-13;
/** A sampled value may miss the cubic through its neighbours by so much of the largest before sampling goes on. */
const resolution = 0.1;
/** A switching function below this share of its size in the step counts as zero: rounding. */
const noise = 1e-13;
/** Crossings that are apart by less than this share of the time are one. */
export const sameMoment = 1e-13;
const deepest = 12;
/** So many samples a step are enough for any function that can be followed at all. */
const largestSampleCount = 2000;
/** Share of a step over which the derivative of a holding share is taken. */
const difference = 1e-4;

/**
 * Finds where switching functions leave the side of their branch inside a step.
 *
 * Watched are, in this order, the m switches and the q dry frictions; a friction that slips is watched by its
 * velocity, one that sticks by what is left of its limits, 1 minus the size of its share. All watched functions are turned so that
 * they are positive while the branch is right.
 */
export interface Watcher {
  readonly flow: Flow;
  readonly count: number;
  /** Which watched function crosses first, after `findFirstCrossing`. */
  index: number;
  /** The side to which that function goes, where it has left a zero on which it stayed. */
  departure: number;
  /** Samples taken since the step was first looked at. */
  sampleCount: number;
  /** Samples taken since the motion began. */
  samplesInAll: number;
  readonly piece: Float64Array;
  readonly outputs: Float64Array;
  readonly startValues: Float64Array;
  readonly startSlopes: Float64Array;
  readonly middleValues: Float64Array;
  readonly middleSlopes: Float64Array;
  readonly endValues: Float64Array;
  readonly endSlopes: Float64Array;
  /** Each watched function counts as zero down to minus this: what rounding left of it at the last event. */
  readonly floors: Float64Array;
  readonly values: Float64Array;
  readonly slopes: Float64Array;
  /** Start and length of the step, and how many numbers a state the piece has. */
  readonly step: Float64Array;
}

export function createWatcher(flow: Flow): Watcher {
  const count = flow.program.switches.length + flow.program.frictions.length;
  const numbers = () => new Float64Array(count);
  return {
    flow,
    count,
    index: -1,
    departure: 0,
    sampleCount: 0,
    samplesInAll: 0,
    piece: new Float64Array(largestPieceTerms * flow.stateCount),
    outputs: new Float64Array(2 * count),
    startValues: numbers(),
    startSlopes: numbers(),
    middleValues: numbers(),
    middleSlopes: numbers(),
    endValues: numbers(),
    endSlopes: numbers(),
    floors: numbers(),
    values: numbers(),
    slopes: numbers(),
    step: new Float64Array(3),
  };
}

/**
 * Whether a watched function is looked at: not a friction that is switched off or holds a constant, not a switch that stays on its
 * zero, not a switch that goes with the velocity of a friction (the friction is watched in its place).
 */
export function isArmed(flow: Flow, index: number): boolean {
  const { program, modes, inputs } = flow;
  const m = program.switches.length;
  if (index >= m) return modes[index - m] !== isOff && modes[index - m] !== holdsConstant;
  return inputs[program.inputs.branches + index] !== 0 && !followsFriction(flow, index);
}

/** Whether a switch takes its branch from a dry friction with the same velocity. */
export function followsFriction(flow: Flow, index: number): boolean {
  const { friction } = flow.program.switches[index];
  return friction >= 0 && flow.modes[friction] !== isOff;
}

/**
 * The watched functions and their time derivatives at the time and state that stand in the inputs.
 *
 * @param values, slopes one a watched function; the slope of a sticking friction is left at 0
 */
export function measure(watcher: Watcher, values: Float64Array, slopes: Float64Array): void {
  const { flow, outputs } = watcher;
  const { program, inputs, modes } = flow;
  if (program.watch === null) return;
  if (flow.stickingCount > 0) hold(flow);
  program.watch(inputs, outputs);
  const m = program.switches.length;
  const q = modes.length;
  const { branches, holdings } = program.inputs;
  for (let j = 0; j < m; j++) {
    const side = inputs[branches + j];
    values[j] = side * outputs[j];
    slopes[j] = side * outputs[m + j];
  }
  for (let i = 0; i < q; i++) {
    const mode = modes[i];
    if (mode === sticks) {
      values[m + i] = 1 - Math.abs(inputs[holdings + i]);
      slopes[m + i] = 0;
    } else {
      values[m + i] = mode * outputs[2 * m + i];
      slopes[m + i] = mode * outputs[2 * m + q + i];
    }
  }
}

/**
 * Takes what watched functions miss of their right side for rounding: a crossing lands a little beside its zero.
 *
 * Time and state must stand in the inputs.
 */
export function noteFloors(watcher: Watcher): void {
  const { values, slopes, floors, count } = watcher;
  measure(watcher, values, slopes);
  for (let j = 0; j < count; j++) floors[j] = values[j] < 0 ? -2 * values[j] : 0;
}

/**
 * The slopes of the m switching functions as they would be if no friction held: the size against which a slope that is
 * held at zero is rounding.
 *
 * Time and state must stand in the inputs; leaves the holding shares at zero.
 */
export function measureFreeSlopes(watcher: Watcher, slopes: Float64Array): void {
  const { flow, outputs } = watcher;
  const { program, inputs, modes } = flow;
  const m = program.switches.length;
  for (let i = 0; i < modes.length; i++) if (modes[i] === sticks) inputs[program.inputs.holdings + i] = 0;
  program.watch?.(inputs, outputs);
  for (let j = 0; j < m; j++) slopes[j] = outputs[m + j];
}

/** As `measure`, at a share of the step; slopes are by that share. */
function sample(watcher: Watcher, theta: number, values: Float64Array, slopes: Float64Array): void {
  const { flow, step } = watcher;
  watcher.sampleCount++;
  watcher.samplesInAll++;
  placeAt(watcher, theta);
  measure(watcher, values, slopes);
  const h = step[1];
  for (let j = 0; j < watcher.count; j++) slopes[j] *= h;
  if (flow.stickingCount === 0) return;
  const m = flow.program.switches.length;
  const { modes, inputs } = flow;
  const shift = theta > 0.5 ? -difference : difference;
  placeAt(watcher, theta + shift);
  hold(flow);
  const holdings = flow.program.inputs.holdings;
  for (let i = 0; i < modes.length; i++) {
    if (modes[i] !== sticks) continue;
    const shifted = 1 - Math.abs(inputs[holdings + i]);
    slopes[m + i] = (shifted - values[m + i]) / shift;
  }
}

function placeAt(watcher: Watcher, theta: number): void {
  const { flow, step } = watcher;
  flow.inputs[flow.program.inputs.time] = step[0] + theta * step[1];
  evaluatePiece(watcher.piece, 0, step[2], flow.stateCount, theta, flow.inputs, flow.statesAt);
}

/**
 * The first place in the step, from `from` on, where a watched function leaves its side.
 *
 * The function is sampled at the ends and the middle; its cubic through values and derivatives shows (by its
 * Bézier points) whether it can have gone to the other side and come back. Where it can, or where the cubic does not
 * describe it, sampling goes on in halves. So a pair of crossings inside a step is found, unless the function
 * moves on a scale far below the step without showing at any sample.
 *
 * @param from share of the step, 0 ≤ `from` < 1
 * @returns the share of the step, `noCrossing`, or NaN where a watched function is not a number;
 *   `watcher.index` says which function
 */
export function findFirstCrossing(watcher: Watcher, from: number): number {
  const { count } = watcher;
  const a = watcher.startValues;
  const da = watcher.startSlopes;
  const m = watcher.middleValues;
  const dm = watcher.middleSlopes;
  const b = watcher.endValues;
  const db = watcher.endSlopes;
  const middle = 0.5 * (from + 1);
  watcher.sampleCount = 0;
  sample(watcher, from, a, da);
  sample(watcher, middle, m, dm);
  sample(watcher, 1, b, db);
  if (findDeparture(watcher)) return from;
  let first = noCrossing;
  for (let j = 0; j < count; j++) {
    if (!isArmed(watcher.flow, j)) continue;
    const total = a[j] + m[j] + b[j] + da[j] + dm[j] + db[j];
    if (!Number.isFinite(total)) return Number.NaN;
    const place = search(watcher, j, 0, from, a[j], da[j], middle, m[j], dm[j], 1, b[j], db[j]);
    if (Number.isNaN(place)) return place;
    if (place < first) {
      first = place;
      watcher.index = j;
    }
  }
  return first;
}

/** Whether a switch that stays on its zero has left it by the time that was sampled last. */
function findDeparture(watcher: Watcher): boolean {
  const { flow, outputs } = watcher;
  const { switches, inputs } = flow.program;
  for (let j = 0; j < switches.length; j++) {
    if (flow.inputs[inputs.branches + j] !== 0 || outputs[j] === 0 || followsFriction(flow, j)) continue;
    watcher.index = j;
    watcher.departure = outputs[j] > 0 ? 1 : -1;
    return true;
  }
  return false;
}

/** Gives the switch that crosses its new side. */
export function turnSwitch(watcher: Watcher, index: number): void {
  const { inputs, program } = watcher.flow;
  const at = program.inputs.branches + index;
  inputs[at] = inputs[at] === 0 ? watcher.departure : -inputs[at];
}

function search(
  watcher: Watcher,
  j: number,
  depth: number,
  a: number,
  ga: number,
  da: number,
  m: number,
  gm: number,
  dm: number,
  b: number,
  gb: number,
  db: number,
): number {
  const width = b - a;
  const size = Math.max(Math.abs(ga), Math.abs(gm), Math.abs(gb));
  const zero = -Math.max(noise * size, watcher.floors[j]);
  if (ga < zero && depth === 0 && da < 0) return a;
  const cubic = 0.5 * (ga + gb) + (width / 8) * (da - db);
  const cubicSlope = (1.5 / width) * (gb - ga) - 0.25 * (da + db);
  const follows =
    Math.abs(gm - cubic) <= resolution * size && Math.abs(dm - cubicSlope) * width <= 4 * resolution * size;
  const isLast = depth === deepest || watcher.sampleCount > largestSampleCount;
  const resolved = follows || isLast;
  for (let half = 0; half < 2; half++) {
    const left = half === 0 ? a : m;
    const gl = half === 0 ? ga : gm;
    const dl = half === 0 ? da : dm;
    const right = half === 0 ? m : b;
    const gr = half === 0 ? gm : gb;
    const dr = half === 0 ? dm : db;
    const crosses = gr < zero;
    const third = (right - left) / 3;
    if (resolved && !crosses && gl + dl * third >= zero && gr - dr * third >= zero) continue;
    if (resolved && crosses && gl > 0) return locate(watcher, j, left, gl, right, gr);
    if (isLast) {
      if (crosses) return left;
      continue;
    }
    const between = 0.5 * (left + right);
    sample(watcher, between, watcher.values, watcher.slopes);
    const g = watcher.values[j];
    const d = watcher.slopes[j];
    if (Number.isNaN(g)) return Number.NaN;
    const place = search(watcher, j, depth + 1, left, gl, dl, between, g, d, right, gr, dr);
    if (place !== noCrossing) return place;
  }
  return noCrossing;
}

function locate(watcher: Watcher, j: number, a: number, ga: number, b: number, gb: number): number {
  const value = (theta: number): number => {
    placeAt(watcher, theta);
    measure(watcher, watcher.values, watcher.slopes);
    return watcher.values[j];
  };
  return findSignChange(value, a, ga, b, gb, placeTolerance);
}
