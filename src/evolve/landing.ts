import { type Course, findTrueStop, markPending, noteHolds } from './course.ts';
import {
  findFirstCrossing,
  followsFriction,
  isArmed,
  measure,
  measureFreeSlopes,
  noCrossing,
  noteFloors,
  sameMoment,
  turnSwitch,
} from './crossing.ts';
import {
  evaluateRates,
  heldShare,
  hold,
  setMode,
  slipsBackward,
  slipsForward,
  sticks,
  writeState,
} from './flow.ts';
import { decideFrictionModes, isHeld } from './friction-modes.ts';
import { findDueJump, noteJumps } from './jump.ts';
import { type BranchFault, followFrictions } from './start-branches.ts';
import type { StepMethod } from './step-method.ts';

/** A landing is corrected while it misses the crossing by more than this share of the step. */
const missTolerance = 1e-14;
const largestCorrections = 3;
/** A switching function whose slope turns round by less than this share is not driven back. */
const turnTolerance = 1e-9;

/**
 * The first crossing in the step at which the evolution must land: one that steers rates, or that makes a stop or the
 * condition of a jump true.
 *
 * Crossings before it that only signals or `holds while` look at are noted on the way.
 *
 * @returns the share of the step, `noCrossing`, or NaN where a watched function is not a number
 */
export function findLanding(course: Course, t: number, h: number): number {
  const { watcher, program, flow } = course;
  const m = program.switches.length;
  let from = 0;
  for (;;) {
    const theta = findFirstCrossing(watcher, from);
    if (Number.isNaN(theta) || theta === noCrossing) return theta;
    const index = watcher.index;
    if (index >= m || program.switches[index].steersRates) return theta;
    const at = program.inputs.branches + index;
    const before = flow.inputs[at];
    noteJumps(course);
    turnSwitch(watcher, index);
    if (findTrueStop(course) >= 0 || findDueJump(course) >= 0) {
      flow.inputs[at] = before;
      return theta;
    }
    const moment = t + theta * h;
    noteHolds(course, moment, flow.inputs, flow.statesAt);
    if (program.switches[index].steersSignals) markPending(course, moment);
    from = theta;
  }
}

/**
 * Repeats the step so that it ends on the crossing: the state there has the accuracy of a step, not of the
 * motion inside it.
 *
 * @returns the length of the repeated step
 */
export function landOnCrossing(
  course: Course,
  method: StepMethod,
  t: number,
  h: number,
  theta: number,
): number {
  const { watcher, flow } = course;
  const { values, slopes, index } = watcher;
  let length = theta * h;
  for (let count = 0; count < largestCorrections; count++) {
    method.attempt(length);
    writeState(flow, t + length, method.end);
    measure(watcher, values, slopes);
    const miss = -values[index] / slopes[index];
    if (!(Math.abs(miss) < 0.01 * length) || Math.abs(miss) <= missTolerance * length) break;
    length += miss;
  }
  return length;
}

/**
 * Changes the branches at a crossing on which the evolution has landed, and those that the change brings with it.
 *
 * The crossing is `watcher.index`; time and state are `t` and `course.state`, where velocities that come to rest are
 * set to exactly zero. A friction that was let go at this moment does not stick again at it: several that share a load
 * let go one after the other.
 */
export function changeBranches(course: Course, t: number): BranchFault | null {
  const { watcher, program, flow, state, start, released } = course;
  const { inputs } = flow;
  const { values, slopes, index } = watcher;
  const m = program.switches.length;
  writeState(flow, t, state);
  measure(watcher, values, slopes);
  const oldSlope = slopes[index];
  const departs = index < m && inputs[program.inputs.branches + index] === 0;
  if (index < m) {
    turnSwitch(watcher, index);
  } else {
    const i = index - m;
    const pull = inputs[program.inputs.holdings + i];
    released[i] = flow.modes[i] !== sticks ? 0 : pull > 0 ? slipsForward : slipsBackward;
    if (released[i] !== 0) setMode(flow, i, released[i]);
  }
  for (let i = 0; i < flow.modes.length; i++) {
    const mode = flow.modes[i];
    const slips = mode === slipsForward || mode === slipsBackward;
    const slipsNoMore = slips && slopes[m + i] < 0 && values[m + i] < -slopes[m + i] * sameMoment * t;
    const rests = isHeld(mode) || slipsNoMore || i === index - m;
    start.atRest[i] = rests && released[i] === 0 ? 1 : 0;
    const { velocityState } = program.frictions[i];
    if (start.atRest[i] === 1 && velocityState >= 0) state[velocityState] = 0;
  }
  writeState(flow, t, state);
  const fault = decideFrictionModes(flow, start.atRest);
  if (fault !== null) return { kind: 'friction', fault };
  if (flow.stickingCount > 0) removeRounding(course, t);
  followFrictions(watcher);
  turnWhatElseCrossed(course, index, sameMoment * t);
  stayOnZero(course, departs ? index : -1);
  if (index < m && isArmed(flow, index) && program.switches[index].steersRates) {
    measure(watcher, values, slopes);
    if (slopes[index] < turnTolerance * oldSlope) return { kind: 'both-sides-push-back', index };
  }
  noteFloors(watcher);
  return null;
}

/** States that are held at a rounding's distance from zero are set to exactly zero. */
function removeRounding(course: Course, t: number): void {
  const { flow, state, rates, largestStates } = course;
  evaluateRates(flow, rates);
  for (let k = 0; k < state.length; k++) {
    if (rates[k] === 0 && Math.abs(state[k]) <= heldShare * largestStates[k]) state[k] = 0;
  }
  writeState(flow, t, state);
  hold(flow);
}

/**
 * Turns the switches that crossed at the same moment or will within `closeS`, and those whose function another branch
 * has moved over its zero.
 */
function turnWhatElseCrossed(course: Course, index: number, closeS: number): void {
  const { watcher, program, flow } = course;
  const { values, slopes } = watcher;
  const m = program.switches.length;
  for (let round = 0; round < m; round++) {
    measure(watcher, values, slopes);
    let turned = false;
    for (let j = 0; j < m; j++) {
      if (j === index || followsFriction(flow, j)) continue;
      if (!(slopes[j] < 0 && values[j] < -slopes[j] * closeS)) continue;
      const at = program.inputs.branches + j;
      flow.inputs[at] = -flow.inputs[at];
      turned = true;
    }
    if (!turned) return;
  }
}

/**
 * A switch whose function is held at exactly zero by frictions has neither side.
 *
 * @param departing the switch that is just leaving its zero, or −1
 */
function stayOnZero(course: Course, departing: number): void {
  const { watcher, program, flow } = course;
  if (flow.stickingCount === 0) return;
  const { outputs } = watcher;
  const free = course.start.slopes;
  const m = program.switches.length;
  measureFreeSlopes(watcher, free);
  measure(watcher, watcher.values, watcher.slopes);
  for (let j = 0; j < m; j++) {
    if (j === departing || followsFriction(flow, j) || outputs[j] !== 0) continue;
    const isHeldThere = Math.abs(outputs[m + j]) <= heldShare * Math.abs(free[j]);
    if (isHeldThere) flow.inputs[program.inputs.branches + j] = 0;
  }
}

/**
 * The switch at whose zero the domain of a rate ends: the next to cross, if it is to cross within `withinS`.
 *
 * `if(h > 0, sqrt(h), 0)` cannot be followed past its switch; but it can be followed up to it.
 *
 * @returns its index, or −1
 */
export function findSwitchAtEdge(course: Course, t: number, withinS: number): number {
  const { watcher, program, flow, state } = course;
  const { values, slopes } = watcher;
  writeState(flow, t, state);
  measure(watcher, values, slopes);
  for (let j = 0; j < program.switches.length; j++) {
    if (followsFriction(flow, j) || flow.inputs[program.inputs.branches + j] === 0) continue;
    if (slopes[j] < 0 && values[j] <= -slopes[j] * withinS) return j;
    if (values[j] === 0 && slopes[j] === 0) return j;
  }
  return -1;
}
