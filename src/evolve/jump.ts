import type { Truth } from '../model/index.ts';
import type { Course } from './course.ts';
import { measure, sameMoment } from './crossing.ts';
import { writeState } from './flow.ts';
import { type BranchFault, decideStartBranches } from './start-branches.ts';
import { isTrue } from './truth.ts';

/** A switching function whose slope is less than this share of its slope before the jump does not move away. */
const partingShare = 1e-9;
/** A flight this small, against 1e-13 of what its switching function is made of, is a few roundings high. */
const flightShare = 0.05;
/** So many rounds of jumps that bring about one another at one moment, beyond their number, are without end. */
const roundsBeyond = 16;

/** Why a motion cannot go on after its jumps. */
export type JumpFault =
  | { readonly kind: 'not-finite'; readonly jump: number }
  /** Jumps bring about one another at one moment, without end. */
  | { readonly kind: 'without-end'; readonly jump: number }
  /** The jump leaves its own condition true, and nothing moves away from it: a ball that does not bounce. */
  | { readonly kind: 'stays'; readonly jump: number }
  | { readonly kind: 'branch'; readonly fault: BranchFault };

/** Index of the first jump whose condition is true under the present branches, or −1. */
export function findTrueJump({ program, flow }: Course): number {
  return program.jumps.findIndex(({ truth }) => isTrue(truth, flow.inputs, program.inputs.branches));
}

/** Notes which conditions of jumps are true under the present branches. */
export function noteJumps(course: Course): void {
  const { program, flow, jumps } = course;
  for (let i = 0; i < program.jumps.length; i++) {
    jumps.noted[i] = isTrue(program.jumps[i].truth, flow.inputs, program.inputs.branches) ? 1 : 0;
  }
}

/** Index of the first jump whose condition is true now and was not when it was noted, or −1. */
export function findDueJump({ program, flow, jumps }: Course): number {
  for (let i = 0; i < program.jumps.length; i++) {
    if (jumps.noted[i] === 1) continue;
    if (isTrue(program.jumps[i].truth, flow.inputs, program.inputs.branches)) return i;
  }
  return -1;
}

/**
 * Makes the jumps whose conditions have become true since they were noted, and those that these bring about.
 *
 * Jumps of one moment are made in their order, each from what the one before has left. Time and state are `t` and
 * `course.state`; the branches before the jumps stand in the inputs, and those after them when this returns.
 *
 * @param scaleS a time that is short for the motion when multiplied by 1e-6
 */
export function makeJumps(course: Course, t: number, scaleS: number): JumpFault | null {
  const { program, flow, watcher, state, start, jumps } = course;
  const { due, ties, oldValues, oldSlopes } = jumps;
  const m = program.switches.length;
  writeState(flow, t, state);
  measure(watcher, watcher.values, watcher.slopes);
  ties.fill(0);
  for (let j = 0; j < m; j++) {
    oldValues[j] = watcher.outputs[j];
    oldSlopes[j] = watcher.outputs[m + j];
    const isClose = Math.abs(oldValues[j]) <= Math.abs(oldSlopes[j]) * sameMoment * t;
    ties[j] = j === watcher.index || isClose ? 1 : 0;
  }
  for (let round = 0; ; round++) {
    const first = findDueJump(course);
    if (first < 0) return null;
    if (round > roundsBeyond + program.jumps.length) return { kind: 'without-end', jump: first };
    markDue(course);
    noteJumps(course);
    for (let i = 0; i < due.length; i++) {
      if (due[i] === 1 && !setStates(course, t, i)) return { kind: 'not-finite', jump: i };
    }
    measure(watcher, watcher.values, watcher.slopes);
    for (let j = 0; j < m; j++) {
      if (ties[j] === 0) continue;
      // A function that the jump moved off its zero has the side that its value says.
      const value = watcher.outputs[j];
      ties[j] = Math.abs(value - oldValues[j]) <= Math.abs(oldValues[j]) ? 4 * Math.abs(value) : 0;
      if (ties[j] === 0 && value === 0) ties[j] = Number.MIN_VALUE;
    }
    const fault = decideStartBranches(start, t, state, scaleS, ties);
    if (fault !== null) return { kind: 'branch', fault };
    // What rounding leaves below zero must not grow from jump to jump.
    for (let j = 0; j < m; j++) if (ties[j] > 0) watcher.floors[j] *= 0.5;
    const staying = findStaying(course);
    if (staying >= 0) return { kind: 'stays', jump: staying };
  }
}

/**
 * Whether the switching function that brought about the jumps that were just made can have moved by no more than its
 * rounding in the time since the jumps before: how a ball lies on a floor far from the origin.
 */
export function movesWithinRounding({ watcher, program, start, jumps }: Course, sinceS: number): boolean {
  const { index } = watcher;
  if (index >= program.switches.length) return false;
  return Math.abs(jumps.oldSlopes[index]) * sinceS <= flightShare * start.noise[index];
}

function markDue({ program, flow, jumps }: Course): void {
  for (let i = 0; i < program.jumps.length; i++) {
    const isDue =
      jumps.noted[i] === 0 && isTrue(program.jumps[i].truth, flow.inputs, program.inputs.branches);
    jumps.due[i] = isDue ? 1 : 0;
  }
}

/** @returns false where a new value is not a finite number */
export function setStates(course: Course, t: number, index: number): boolean {
  const { program, flow, state, jumps } = course;
  const { states, values } = program.jumps[index];
  writeState(flow, t, state);
  values(flow.inputs, jumps.values);
  let areFinite = true;
  for (let k = 0; k < states.length; k++) {
    state[states[k]] = jumps.values[k];
    areFinite &&= Number.isFinite(jumps.values[k]);
  }
  writeState(flow, t, state);
  return areFinite;
}

/** A jump that was made, whose condition is still true, and whose switching function has come to a halt at its zero. */
function findStaying(course: Course): number {
  const { program, flow, watcher, jumps } = course;
  const m = program.switches.length;
  measure(watcher, watcher.values, watcher.slopes);
  for (const [i, { truth }] of program.jumps.entries()) {
    if (jumps.due[i] === 0 || !isTrue(truth, flow.inputs, program.inputs.branches)) continue;
    for (const j of switchesOf(truth)) {
      const slope = Math.abs(watcher.outputs[m + j]);
      if (jumps.ties[j] > 0 && slope <= partingShare * Math.abs(jumps.oldSlopes[j])) return i;
    }
  }
  return -1;
}

function switchesOf(truth: Truth): readonly number[] {
  switch (truth.kind) {
    case 'side':
      return [truth.switch];
    case 'not':
      return switchesOf(truth.operand);
    default:
      return [...switchesOf(truth.left), ...switchesOf(truth.right)];
  }
}
