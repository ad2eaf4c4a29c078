import type { Model } from '../model/index.ts';
import { fail, type Outcome, type Problem } from '../problem/index.ts';
import { decideClassroomFrictions } from './classroom-friction.ts';
import { createClassroomStep, type Stepper } from './classroom-stage.ts';
import { type Course, createCourse, findTrueStop, keepBranches, noteHolds } from './course.ts';
import { followsFriction, measure } from './crossing.ts';
import * as problems from './evolution-problems.ts';
import { holdsConstant, writeState } from './flow.ts';
import { findDueJump, noteJumps, setStates } from './jump.ts';
import type { Motion } from './motion.ts';
import { defaultMaxSteps, defaultMaxTimeS } from './options.ts';
import { beginCourse, finishRun, type RunEnd } from './run.ts';
import { addBreak, addPiece, addStretch } from './track.ts';
import { isTrue } from './truth.ts';

export interface ClassroomOptions {
  readonly stepper: Stepper;
  /** Length of every step, s; the last is shorter where the model's time ends inside it. */
  readonly stepS: number;
  /** Default 200 000. */
  readonly maxSteps?: number;
  /** Time of the motion within which a stop must come, s. Default 1e6. */
  readonly maxTimeS?: number;
  readonly signal?: { readonly aborted: boolean };
}

/**
 * The motion as a class would compute it: equal steps, straight lines between them.
 *
 * Branches are looked at anew at the start of every step and stay for its length. A stop or a failing `holds while`
 * inside a step is placed by a straight line between the values at its ends; a jump is made at the end of the step in
 * which its condition became true.
 *
 * @param p one value a parameter of the model, SI, in the order of `model.parameterNames`
 * @returns fails as `evolve` does
 * @throws RangeError for a step that is not positive
 */
export function classroomSteps(model: Model, p: Float64Array, options: ClassroomOptions): Outcome<Motion> {
  const { stepper, stepS } = options;
  if (!(stepS > 0 && stepS < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`A step must be a positive time in seconds, not ${stepS}.`);
  }
  const course = createCourse(model.program);
  const begun = beginCourse(course, p);
  if (!begun.ok) return begun;
  const walk = createWalk(course, stepper, begun.value);
  while (walk.ended === null) {
    const problem = checkBudget(walk, options) ?? takeClassroomStep(walk, stepS);
    if (problem !== null) return fail(problem);
  }
  return finishRun(walk, p, [stepper]);
}

/** A motion in equal steps under way. */
interface Walk extends RunEnd {
  readonly course: Course;
  readonly endS: number;
  readonly step: ReturnType<typeof createClassroomStep>;
  readonly end: Float64Array;
  readonly velocities: Float64Array;
  /** Every switching function at the start and at the end of the step. */
  readonly before: Float64Array;
  readonly after: Float64Array;
  readonly slopes: Float64Array;
  readonly piece: Float64Array;
  readonly moment: Float64Array;
  t: number;
  accepted: number;
  ended: Motion['ended'] | null;
  stop: number;
}

function createWalk(course: Course, stepper: Stepper, endS: number): Walk {
  const { flow, watcher } = course;
  const n = flow.stateCount;
  return {
    course,
    endS,
    step: createClassroomStep(flow, stepper),
    end: new Float64Array(n),
    velocities: new Float64Array(flow.modes.length),
    before: new Float64Array(watcher.count),
    after: new Float64Array(watcher.count),
    slopes: new Float64Array(watcher.count),
    piece: new Float64Array(2 * n),
    moment: new Float64Array(n),
    t: 0,
    accepted: 0,
    rejected: 0,
    ended: null,
    stop: -1,
    warnings: [],
  };
}

function checkBudget(walk: Walk, options: ClassroomOptions): Problem | null {
  const { course, t, endS, accepted } = walk;
  const { program, state } = course;
  const maxSteps = options.maxSteps ?? defaultMaxSteps;
  const maxTimeS = options.maxTimeS ?? defaultMaxTimeS;
  if (accepted >= maxSteps) return problems.tooManySteps(program, maxSteps, t, state);
  if (endS === Number.POSITIVE_INFINITY && t > maxTimeS) {
    return problems.stopNeverComes(program, maxTimeS, t, state);
  }
  return options.signal?.aborted === true ? problems.interrupted(t) : null;
}

function takeClassroomStep(walk: Walk, stepS: number): Problem | null {
  const { course, end, endS, t } = walk;
  const { program, flow, state, watcher, track } = course;
  const planned = (walk.accepted + 1) * stepS;
  const to = planned + 1e-9 * stepS >= endS ? endS : planned;
  const h = to - t;
  noteJumps(course);
  writeState(flow, t, state);
  measure(watcher, walk.before, walk.slopes);
  for (let j = 0; j < program.switches.length; j++) walk.before[j] = watcher.outputs[j];
  const fault = decideClassroomFrictions(watcher, walk.velocities, h);
  if (fault !== null) return problems.branchProblem(program, { kind: 'friction', fault }, t, state);
  walk.step(t, h, state, end);
  restoreRest(course, end);
  if (!end.every(Number.isFinite)) return problems.notFinite(program, t, state);
  keepBranches(course);
  for (let i = 0; i < state.length; i++) {
    walk.piece[2 * i] = state[i];
    walk.piece[2 * i + 1] = end[i] - state[i];
  }
  addStretch(track, t, addPiece(track, t, h, walk.piece, 2), course.record);
  walk.accepted++;
  writeState(flow, to, end);
  measure(watcher, walk.after, walk.slopes);
  const theta = passCrossings(walk, t, to);
  const rests = program.autonomous && endS === Number.POSITIVE_INFINITY && isUnchanged(state, end);
  if (theta < 1) {
    for (let i = 0; i < state.length; i++) state[i] += theta * (end[i] - state[i]);
    walk.t = t + theta * h;
    walk.ended = 'by a stop';
    return null;
  }
  state.set(end);
  walk.t = to;
  if (walk.stop < 0 && findDueJump(course) >= 0) {
    const stuck = takeClassroomJumps(walk, to);
    if (stuck !== null) return stuck;
  }
  if (walk.stop >= 0) walk.ended = 'by a stop';
  else if (to === endS) walk.ended = 'in time';
  else if (rests) {
    walk.ended = 'at rest';
    walk.warnings.push(problems.comesToRest(program, to, state));
  }
  return null;
}

/**
 * The jumps whose conditions became true in the step are made at its end, each once, as a class would.
 *
 * Branches follow at once, so that a stop that the jump makes true is found.
 */
function takeClassroomJumps(walk: Walk, t: number): Problem | null {
  const { course } = walk;
  const { program, flow, watcher, track, jumps, state } = course;
  const due = program.jumps.map(
    ({ truth }, i) => jumps.noted[i] === 0 && isTrue(truth, flow.inputs, program.inputs.branches),
  );
  for (const [i, isDue] of due.entries()) {
    if (isDue && !setStates(course, t, i)) return problems.jumpNotFinite(program, i, t, state);
  }
  measure(watcher, walk.after, walk.slopes);
  for (let j = 0; j < program.switches.length; j++) {
    flow.inputs[program.inputs.branches + j] = sideAfter(course, j, watcher.outputs[j]);
  }
  addBreak(track, t);
  noteHolds(course, t, state, 0);
  walk.stop = findTrueStop(course);
  return null;
}

/** A velocity that a friction held against is zero at the end of the step, without rounding. */
function restoreRest(course: Course, end: Float64Array): void {
  const { flow, program } = course;
  for (let i = 0; i < flow.modes.length; i++) {
    const { velocityState } = program.frictions[i];
    if (flow.modes[i] === holdsConstant && velocityState >= 0) end[velocityState] = 0;
  }
}

function isUnchanged(state: Float64Array, end: Float64Array): boolean {
  for (let i = 0; i < state.length; i++) if (state[i] !== end[i]) return false;
  return true;
}

/**
 * Turns the switches that changed side in the step, in the order of their crossing on straight lines.
 *
 * @returns the share of the step at which a stop became true, or 1; `walk.stop` says which stop
 */
function passCrossings(walk: Walk, t: number, to: number): number {
  const { course, before, end, moment } = walk;
  const { program, flow, watcher, track, state } = course;
  const { branches } = program.inputs;
  const after = watcher.outputs;
  let changed = false;
  for (;;) {
    let first = 2;
    let index = -1;
    for (let j = 0; j < program.switches.length; j++) {
      const side = sideAfter(course, j, after[j]);
      if (side === flow.inputs[branches + j]) continue;
      const share = before[j] === after[j] ? 1 : before[j] / (before[j] - after[j]);
      const place = share >= 0 && share <= 1 ? share : 0;
      if (place < first) {
        first = place;
        index = j;
      }
    }
    if (index < 0) break;
    flow.inputs[branches + index] = sideAfter(course, index, after[index]);
    const { steersRates, steersSignals } = program.switches[index];
    changed ||= steersRates || steersSignals;
    for (let i = 0; i < moment.length; i++) moment[i] = state[i] + first * (end[i] - state[i]);
    noteHolds(course, t + first * (to - t), moment, 0);
    walk.stop = findTrueStop(course);
    if (walk.stop >= 0) return first;
  }
  if (changed) addBreak(track, to);
  return 1;
}

/** The branch of a switch from its value; on exactly zero it stays, or is 0 where a friction holds its velocity. */
function sideAfter(course: Course, index: number, value: number): number {
  const { flow, program } = course;
  if (value !== 0) return value > 0 ? 1 : -1;
  if (!followsFriction(flow, index)) return flow.inputs[program.inputs.branches + index];
  return flow.modes[program.switches[index].friction] === holdsConstant
    ? 0
    : flow.inputs[program.inputs.branches + index];
}
