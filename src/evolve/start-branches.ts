import { followsFriction, measure, measureFreeSlopes, noteFloors, type Watcher } from './crossing.ts';
import { evaluateRates, heldShare, isOff, setMode, slipsBackward, slipsForward, writeState } from './flow.ts';
import { decideFrictionModes, type FrictionFault, isHeld, switchOffFrictions } from './friction-modes.ts';

/** Relative change of a state that counts as its rounding. */
const rounding = 1e-13;
/** Time over which the second derivative of a switching function is taken, as a share of the time scale. */
const difference = 1e-6;

/** Work space to decide branches, made once. */
export interface StartBranches {
  readonly watcher: Watcher;
  readonly atRest: Uint8Array;
  readonly noise: Float64Array;
  readonly state: Float64Array;
  readonly rates: Float64Array;
  readonly values: Float64Array;
  readonly slopes: Float64Array;
  readonly firstValues: Float64Array;
  readonly firstSlopes: Float64Array;
}

export type BranchFault =
  | { readonly kind: 'friction'; readonly fault: FrictionFault }
  | { readonly kind: 'both-sides-push-back'; readonly index: number };

export function createStartBranches(watcher: Watcher): StartBranches {
  const { flow, count } = watcher;
  return {
    watcher,
    atRest: new Uint8Array(flow.modes.length),
    noise: new Float64Array(2 * count),
    state: new Float64Array(flow.stateCount),
    rates: new Float64Array(flow.stateCount),
    values: new Float64Array(count),
    slopes: new Float64Array(count),
    firstValues: new Float64Array(count),
    firstSlopes: new Float64Array(count),
  };
}

/**
 * Decides the branch of every switch and the mode of every dry friction at the start of a motion.
 *
 * Where a switching function is zero at the start, the side is taken to which the motion takes it, by its first
 * derivative, or its second where the first is zero too; where nothing moves it, the branch is 0.
 *
 * @param timeScaleS a time that is short for the motion when multiplied by 1e-6
 * @param ties where given: how far beside its zero each switching function counts as zero, beyond its rounding
 */
export function decideStartBranches(
  start: StartBranches,
  t: number,
  y: Float64Array,
  timeScaleS: number,
  ties: Float64Array | null = null,
): BranchFault | null {
  const { watcher, atRest, noise } = start;
  const { flow } = watcher;
  const { program, inputs, modes } = flow;
  if (program.watch === null) return null;
  const m = program.switches.length;
  const q = modes.length;
  const { branches } = program.inputs;
  for (let j = 0; j < m; j++) inputs[branches + j] = 1;
  switchOffFrictions(flow);
  writeState(flow, t, y);
  takeSides(start);
  estimateNoise(start, t, y);
  if (ties !== null) for (let j = 0; j < m; j++) noise[j] += ties[j];
  measureRaw(start);
  for (let i = 0; i < q; i++) {
    if (modes[i] === isOff) continue;
    const velocity = start.values[m + i];
    atRest[i] = Math.abs(velocity) <= noise[m + i] ? 1 : 0;
    if (atRest[i] === 0) setMode(flow, i, velocity > 0 ? slipsForward : slipsBackward);
  }
  const fault = decideFrictionModes(flow, atRest);
  if (fault !== null) return { kind: 'friction', fault };
  followFrictions(watcher);
  if (flow.stickingCount > 0) {
    measureFreeSlopes(watcher, start.slopes);
    for (let j = 0; j < m; j++) noise[watcher.count + j] += heldShare * Math.abs(start.slopes[j]);
  }
  for (let j = 0; j < m; j++) {
    if (followsFriction(flow, j) || Math.abs(start.values[j]) > noise[j]) continue;
    if (!decideTie(start, j, t, y, difference * timeScaleS))
      return { kind: 'both-sides-push-back', index: j };
  }
  writeState(flow, t, y);
  noteFloors(watcher);
  return null;
}

/** Gives every switch that goes with a dry friction the branch of that friction: 0 while it sticks. */
export function followFrictions(watcher: Watcher): void {
  const { flow } = watcher;
  const { program, inputs, modes } = flow;
  for (let j = 0; j < program.switches.length; j++) {
    if (!followsFriction(flow, j)) continue;
    const { friction, frictionSign } = program.switches[j];
    const mode = modes[friction];
    inputs[program.inputs.branches + j] = isHeld(mode) ? 0 : mode * frictionSign;
  }
}

/** Switching functions and velocities as they are, without turning them to their branch. */
function measureRaw(start: StartBranches): void {
  const { watcher, values, slopes } = start;
  const { flow, outputs } = watcher;
  const m = flow.program.switches.length;
  const q = flow.modes.length;
  measure(watcher, values, slopes);
  for (let j = 0; j < m; j++) {
    values[j] = outputs[j];
    slopes[j] = outputs[m + j];
  }
  for (let i = 0; i < q; i++) {
    values[m + i] = outputs[2 * m + i];
    slopes[m + i] = outputs[2 * m + q + i];
  }
}

/** Repeated, because a switching function may contain branches of others. */
function takeSides(start: StartBranches): void {
  const { watcher, values } = start;
  const { program, inputs } = watcher.flow;
  const m = program.switches.length;
  const { branches } = program.inputs;
  for (let round = 0; round <= m; round++) {
    measureRaw(start);
    let changed = false;
    for (let j = 0; j < m; j++) {
      const side = values[j] < 0 ? -1 : 1;
      if (inputs[branches + j] === side) continue;
      inputs[branches + j] = side;
      changed = true;
    }
    if (!changed) return;
  }
}

function estimateNoise(start: StartBranches, t: number, y: Float64Array): void {
  const { watcher, noise, state, values, slopes, firstValues, firstSlopes } = start;
  const { flow, count } = watcher;
  measureRaw(start);
  noise.fill(0);
  firstValues.set(values);
  firstSlopes.set(slopes);
  for (let i = 0; i < y.length; i++) {
    if (y[i] === 0) continue;
    for (let k = 0; k < y.length; k++) state[k] = k === i ? y[k] * (1 + rounding) : y[k];
    writeState(flow, t, state);
    measureRaw(start);
    for (let j = 0; j < count; j++) {
      noise[j] += Math.abs(values[j] - firstValues[j]) || 0;
      noise[count + j] += Math.abs(slopes[j] - firstSlopes[j]) || 0;
    }
  }
  writeState(flow, t, y);
}

/** @returns false where the motion pushes the switching function back to zero from both sides */
function decideTie(start: StartBranches, j: number, t: number, y: Float64Array, shortS: number): boolean {
  const { inputs, program } = start.watcher.flow;
  const at = program.inputs.branches + j;
  const above = directionOn(start, j, 1, t, y, shortS);
  const below = directionOn(start, j, -1, t, y, shortS);
  if (above > 0) inputs[at] = 1;
  else if (below < 0) inputs[at] = -1;
  else if (above === 0 && below === 0) inputs[at] = 0;
  else return false;
  return true;
}

/** Which way the switching function moves away from zero, on one of its sides. */
function directionOn(
  start: StartBranches,
  j: number,
  side: number,
  t: number,
  y: Float64Array,
  shortS: number,
): number {
  const { watcher, noise, state, rates, slopes } = start;
  const { flow, count } = watcher;
  flow.inputs[flow.program.inputs.branches + j] = side;
  writeState(flow, t, y);
  evaluateRates(flow, rates);
  measureRaw(start);
  const slope = slopes[j];
  if (Math.abs(slope) > noise[count + j]) return Math.sign(slope);
  for (let i = 0; i < y.length; i++) state[i] = y[i] + shortS * rates[i];
  writeState(flow, t + shortS, state);
  measureRaw(start);
  const change = slopes[j] - slope;
  return Math.abs(change) > noise[count + j] ? Math.sign(change) : 0;
}
