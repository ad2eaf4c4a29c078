import type { EvolutionProgram } from '../model/index.ts';
import { createWatcher, type Watcher } from './crossing.ts';
import { createExplicitPair } from './explicit-pair.ts';
import { createFlow, type Flow } from './flow.ts';
import { createImplicitMethod } from './implicit-method.ts';
import { createJumps, type Jumps } from './jump-space.ts';
import { createViewer, type Hold, type Viewer } from './motion.ts';
import { createStartBranches, type StartBranches } from './start-branches.ts';
import { createStartingStep, type StartingStep } from './starting-step.ts';
import type { StepMethod } from './step-method.ts';
import { addBreak, addPiece, addRecord, addStretch, clearTrack, createTrack, type Track } from './track.ts';
import { isTrue } from './truth.ts';

/** All that a run needs, made once and used again: thousands of runs allocate little. */
export interface Course {
  readonly program: EvolutionProgram;
  readonly flow: Flow;
  readonly watcher: Watcher;
  readonly start: StartBranches;
  readonly startingStep: StartingStep;
  readonly track: Track;
  readonly viewer: Viewer;
  readonly explicit: StepMethod;
  /** Made when it is first needed. */
  implicit: StepMethod | null;
  readonly constants: Float64Array;
  readonly output: Float64Array;
  readonly state: Float64Array;
  readonly rates: Float64Array;
  /** Largest size of each rate so far. */
  readonly largestRates: Float64Array;
  /** Largest size of each state so far. */
  readonly largestStates: Float64Array;
  /** The direction in which each friction was let go at the present moment, or 0. */
  readonly released: Int8Array;
  /** When each `holds while` first failed, s; NaN where it has not. */
  readonly failedAt: Float64Array;
  readonly failedState: Float64Array[];
  /** Changes of signal branches inside the step under way: their times and branch records. */
  readonly pendingTimes: number[];
  readonly pendingRecords: number[];
  readonly jumps: Jumps;
  /** The branch record now in force. */
  record: number;
}

export function createCourse(program: EvolutionProgram): Course {
  const flow = createFlow(program);
  const watcher = createWatcher(flow);
  const track = createTrack(program);
  const n = flow.stateCount;
  return {
    program,
    flow,
    watcher,
    start: createStartBranches(watcher),
    startingStep: createStartingStep(flow),
    track,
    viewer: createViewer(program, track),
    explicit: createExplicitPair(flow),
    implicit: null,
    constants: new Float64Array(program.constantCount),
    output: new Float64Array(1),
    state: new Float64Array(n),
    rates: new Float64Array(n),
    largestRates: new Float64Array(n),
    largestStates: new Float64Array(n),
    released: new Int8Array(program.frictions.length),
    failedAt: new Float64Array(program.holdsWhile.length),
    failedState: program.holdsWhile.map(() => new Float64Array(n)),
    pendingTimes: [],
    pendingRecords: [],
    jumps: createJumps(watcher),
    record: 0,
  };
}

/** Forgets the last run. */
export function clearCourse(course: Course): void {
  clearTrack(course.track);
  course.viewer.run++;
  course.largestRates.fill(0);
  course.largestStates.fill(0);
  course.released.fill(0);
  course.failedAt.fill(Number.NaN);
  forgetPending(course);
  course.flow.evaluations = 0;
  course.watcher.samplesInAll = 0;
}

export function implicitMethodOf(course: Course): StepMethod {
  course.implicit ??= createImplicitMethod(course.flow);
  return course.implicit;
}

/** Drops the changes of signal branches of a step that is not taken. */
export function forgetPending(course: Course): void {
  if (course.pendingTimes.length === 0) return;
  course.pendingTimes.length = 0;
  course.pendingRecords.length = 0;
}

/** Keeps the present branches as those in force from now on. */
export function keepBranches(course: Course): void {
  course.record = addRecord(course.track, course.program, course.flow.inputs, course.flow.modes);
}

/** Marks a change of signal branches at a time inside the step under way. */
export function markPending(course: Course, t: number): void {
  const { track, program, flow } = course;
  course.pendingTimes.push(t);
  course.pendingRecords.push(addRecord(track, program, flow.inputs, flow.modes));
}

/**
 * Records a piece of the motion, with the changes of signal branches inside it.
 *
 * @param until changes from this time on are left out: they belong to the crossing at the end of the piece
 */
export function commitPiece(
  course: Course,
  t: number,
  h: number,
  piece: Float64Array,
  terms: number,
  until: number,
): void {
  const { track, pendingTimes, pendingRecords } = course;
  const index = addPiece(track, t, h, piece, terms);
  addStretch(track, t, index, course.record);
  for (let i = 0; i < pendingTimes.length; i++) {
    if (pendingTimes[i] >= until) break;
    course.record = pendingRecords[i];
    addStretch(track, pendingTimes[i], index, course.record);
    addBreak(track, pendingTimes[i]);
  }
  forgetPending(course);
}

/** Index of the first stop whose condition is true under the present branches, or −1. */
export function findTrueStop(course: Course): number {
  const { stops, inputs } = course.program;
  for (let i = 0; i < stops.length; i++) {
    if (isTrue(stops[i].truth, course.flow.inputs, inputs.branches)) return i;
  }
  return -1;
}

/** Notes every `holds while` that is false under the present branches and was never false before. */
export function noteHolds(course: Course, t: number, y: Float64Array, from: number): void {
  const { holdsWhile, inputs } = course.program;
  for (let i = 0; i < holdsWhile.length; i++) {
    if (!Number.isNaN(course.failedAt[i])) continue;
    if (isTrue(holdsWhile[i].truth, course.flow.inputs, inputs.branches)) continue;
    course.failedAt[i] = t;
    for (let k = 0; k < course.flow.stateCount; k++) course.failedState[i][k] = y[from + k];
  }
}

export function listHolds(course: Course): Hold[] {
  return course.program.holdsWhile.map(({ name }, i) => ({
    name,
    failsAt: Number.isNaN(course.failedAt[i])
      ? null
      : { t: course.failedAt[i], state: course.failedState[i].slice() },
  }));
}
