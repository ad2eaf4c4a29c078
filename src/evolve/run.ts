import { fail, type Outcome, type Problem, succeed } from '../problem/index.ts';
import {
  type Course,
  clearCourse,
  findTrueStop,
  implicitMethodOf,
  keepBranches,
  listHolds,
  noteHolds,
} from './course.ts';
import * as problems from './evolution-problems.ts';
import { loadParameters, writeState } from './flow.ts';
import { findTrueJump } from './jump.ts';
import { createMotion, type Motion, openViewer } from './motion.ts';
import {
  defaultMaxSteps,
  defaultMaxTimeS,
  defaultRelativeTolerance,
  type EvolutionOptions,
  longestShareOfDuration,
  longestShareSoFar,
} from './options.ts';
import { noteSizes, restsForEver } from './rest.ts';
import { decideStartBranches } from './start-branches.ts';
import { findStartingStep } from './starting-step.ts';
import type { StepMethod } from './step-method.ts';
import { createTolerances, followState, type Tolerances } from './tolerances.ts';

/** Where only stops end the motion: the span from which the first step is guessed, s. */
const guessedSpanS = 1;

/** One motion under way. The state is `course.state`. */
export interface Run {
  readonly course: Course;
  readonly tolerances: Tolerances;
  readonly maxSteps: number;
  readonly maxTimeS: number;
  /** Longest step, s, and what of the time so far it may grow with. */
  readonly longestStepS: number;
  readonly longestShare: number;
  readonly choice: 'automatic' | 'explicit' | 'implicit';
  readonly signal: { readonly aborted: boolean } | undefined;
  /** Infinity where only stops end the motion. */
  readonly endS: number;
  /** The first step: a length below which times near the start are not told apart. */
  readonly firstStepS: number;
  readonly methods: StepMethod[];
  method: StepMethod;
  t: number;
  /** The next step to try, s. */
  h: number;
  accepted: number;
  rejected: number;
  /** When the last jump was made, s, and how many have followed one another at once; 0 before the first. */
  jumpedAt: number;
  quickJumps: number;
  /** Changes of branch since time last went on. */
  changesInPlace: number;
  ended: Motion['ended'] | null;
  /** Index of the stop that ended the motion, or −1. */
  stop: number;
  readonly warnings: Problem[];
}

/**
 * Puts a motion at its start: parameters, start values, branches; or says what is wrong with them.
 *
 * @returns the end time, s; Infinity where only stops end the motion
 */
export function beginCourse(course: Course, p: Float64Array): Outcome<number> {
  const { program, state } = course;
  clearCourse(course);
  const endS = loadStart(course, p);
  if (typeof endS !== 'number') return fail(endS);
  const fault = decideStartBranches(course.start, 0, state, spanOf(endS));
  if (fault !== null) return fail(problems.branchProblem(program, fault, 0, state));
  if (endS === Number.POSITIVE_INFINITY && restsForEver(course, 0)) {
    return fail(problems.neverMoves(program, state));
  }
  const stop = findTrueStop(course);
  if (stop >= 0) return fail(problems.stopTrueAtStart(program, program.stops[stop].name, state));
  const jump = findTrueJump(course);
  if (jump >= 0) return fail(problems.jumpTrueAtStart(program, jump, state));
  noteHolds(course, 0, state, 0);
  return succeed(endS);
}

function spanOf(endS: number): number {
  return endS < Number.POSITIVE_INFINITY ? endS : guessedSpanS;
}

/** Starts a motion by the methods that choose their step: first rates, first step. */
export function beginRun(course: Course, p: Float64Array, options: EvolutionOptions): Outcome<Run> {
  const begun = beginCourse(course, p);
  if (!begun.ok) return begun;
  const endS = begun.value;
  const { program, flow, state } = course;
  keepBranches(course);
  const choice = options.method ?? 'automatic';
  const method = choice === 'implicit' ? implicitMethodOf(course) : course.explicit;
  const relative = options.relativeTolerance ?? defaultRelativeTolerance;
  const tolerances = createTolerances(relative, options.absoluteTolerance, flow.stateCount);
  followState(tolerances, state);
  method.begin(0, state, tolerances);
  const { startRates } = method;
  if (!startRates.every(Number.isFinite)) return fail(problems.ratesNotFinite(program, state, startRates));
  noteSizes(course, startRates);
  const firstStepS = findStartingStep(course.startingStep, 0, state, startRates, tolerances, spanOf(endS));
  return succeed({
    course,
    tolerances,
    maxSteps: options.maxSteps ?? defaultMaxSteps,
    maxTimeS: options.maxTimeS ?? defaultMaxTimeS,
    ...limitStep(program.isDriven, endS, firstStepS, options.maxStepS),
    choice,
    signal: options.signal,
    endS,
    firstStepS,
    methods: [method],
    method,
    t: 0,
    h: firstStepS,
    accepted: 0,
    rejected: 0,
    jumpedAt: 0,
    quickJumps: 0,
    changesInPlace: 0,
    ended: null,
    stop: -1,
    warnings: [],
  });
}

function limitStep(
  isDriven: boolean,
  endS: number,
  firstStepS: number,
  maxStepS: number | undefined,
): { longestStepS: number; longestShare: number } {
  if (maxStepS !== undefined) return { longestStepS: maxStepS, longestShare: 0 };
  if (!isDriven) return { longestStepS: Number.POSITIVE_INFINITY, longestShare: 0 };
  return endS < Number.POSITIVE_INFINITY
    ? { longestStepS: longestShareOfDuration * endS, longestShare: 0 }
    : { longestStepS: firstStepS, longestShare: longestShareSoFar };
}

/** Loads parameters and start; returns the end time or what is wrong. */
function loadStart(course: Course, p: Float64Array): number | Problem {
  const { program, flow, state, output } = course;
  if (p.length !== program.parameterCount) {
    throw new RangeError(`The model has ${program.parameterCount} parameters; ${p.length} were given.`);
  }
  loadParameters(flow, p, course.constants);
  flow.inputs[program.inputs.time] = 0;
  program.start(flow.inputs, state);
  if (!state.every(Number.isFinite)) return problems.startNotFinite(program, state);
  writeState(flow, 0, state);
  if (program.lasts === null) return Number.POSITIVE_INFINITY;
  program.lasts(flow.inputs, output);
  const duration = output[0];
  return duration > 0 && duration < Number.POSITIVE_INFINITY
    ? duration
    : problems.durationNotPositive(duration);
}

/** How a motion that was recorded came to its end. */
export type RunEnd = Pick<Run, 'course' | 't' | 'ended' | 'stop' | 'accepted' | 'rejected' | 'warnings'>;

/**
 * Makes the motion that was recorded.
 *
 * @param methods names of the methods that were used
 */
export function finishRun(run: RunEnd, p: Float64Array, methods: readonly string[]): Outcome<Motion> {
  const { course, t, stop, ended } = run;
  const { program, state, viewer, track } = course;
  if (ended === null || track.pieceCount === 0) return fail(problems.neverMoves(program, state));
  openViewer(viewer, p, course.constants, t);
  const motion = createMotion(viewer, {
    startS: 0,
    endS: t,
    stop: stop >= 0 ? program.stops[stop].name : null,
    ended,
    holds: listHolds(course),
    steps: {
      accepted: run.accepted,
      rejected: run.rejected,
      evaluations: course.flow.evaluations,
      method: methods,
    },
  });
  return succeed(motion, run.warnings);
}
