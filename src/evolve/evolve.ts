import type { Model } from '../model/index.ts';
import { fail, type Outcome, type Problem, succeed } from '../problem/index.ts';
import {
  type Course,
  clearCourse,
  commitPiece,
  createCourse,
  findTrueStop,
  forgetPending,
  implicitMethodOf,
  keepBranches,
  listHolds,
  noteHolds,
} from './course.ts';
import { noCrossing } from './crossing.ts';
import * as problems from './evolution-problems.ts';
import { loadParameters, writeState } from './flow.ts';
import { changeBranches, findLanding, findSwitchAtEdge, landOnCrossing } from './landing.ts';
import { createMotion, type Motion, openViewer } from './motion.ts';
import {
  defaultMaxSteps,
  defaultMaxTimeS,
  defaultRelativeTolerance,
  type EvolutionOptions,
} from './options.ts';
import { noteRates, restsForEver } from './rest.ts';
import { decideStartBranches } from './start-branches.ts';
import { findStartingStep } from './starting-step.ts';
import type { StepMethod } from './step-method.ts';
import { createTolerances, followState } from './tolerances.ts';
import { addBreak } from './track.ts';

/** A step below this share of the time is too small to change it reliably. */
const leastShare = 8 * Number.EPSILON;
/** A switch this close, as a share of the time, is taken to be crossed where the rates end. */
const edgeShare = 1e-12;
/** Where only stops end the motion: the span from which the first step is guessed, s. */
const guessedSpanS = 1;
/** So many changes of branch without progress in time, beyond the number of switches, are chattering. */
const chatterCount = 16;

/** Runs one model many times, with different parameters, allocating little. */
export interface Evolver {
  /**
   * As `evolve`; the motion can be looked at until the next run of this evolver.
   *
   * @param p one value a parameter of the model, SI, in the order of `model.parameterNames`
   */
  run(p: Float64Array, options?: EvolutionOptions): Outcome<Motion>;
}

/** Prepares to run a model many times. */
export function createEvolver(model: Model): Evolver {
  const course = createCourse(model.program);
  return { run: (p, options = {}) => runCourse(course, p, options) };
}

/**
 * The motion of a model from its start to its first stop or the end of its time.
 *
 * The explicit pair of order 8 takes the steps, an implicit method where the model is stiff. Switching functions and
 * stops are located to 1e-13 of a step; the state there has the accuracy of a step.
 *
 * @param p one value a parameter of the model, SI, in the order of `model.parameterNames`
 * @returns fails where the start or the rates are not finite, where friction cannot be decided or a switch
 *   chatters, where no stop comes within the budget, and where it is interrupted; a motion that comes to rest for
 *   ever before its stop ends there, with a warning
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5, II.6
 */
export function evolve(model: Model, p: Float64Array, options: EvolutionOptions = {}): Outcome<Motion> {
  return createEvolver(model).run(p, options);
}

function runCourse(course: Course, p: Float64Array, options: EvolutionOptions): Outcome<Motion> {
  const { program, flow, watcher, state, viewer } = course;
  const { piece } = watcher;
  if (p.length !== program.parameterCount) {
    throw new RangeError(`The model has ${program.parameterCount} parameters; ${p.length} were given.`);
  }
  const maxSteps = options.maxSteps ?? defaultMaxSteps;
  const maxTimeS = options.maxTimeS ?? defaultMaxTimeS;
  const relative = options.relativeTolerance ?? defaultRelativeTolerance;
  const tolerances = createTolerances(relative, options.absoluteTolerance, flow.stateCount);
  const begun = beginCourse(course, p);
  if (typeof begun !== 'number') return fail(begun);
  const endS = begun;
  const spanS = endS < Number.POSITIVE_INFINITY ? endS : guessedSpanS;
  const fault = decideStartBranches(course.start, 0, state, spanS);
  if (fault !== null) return fail(problems.frictionProblem(program, fault, 0, state));
  const stopAtStart = findTrueStop(course);
  const looksForRest = endS === Number.POSITIVE_INFINITY;
  if (looksForRest && restsForEver(course, 0)) return fail(problems.neverMoves(program, state));
  if (stopAtStart >= 0) {
    return fail(problems.stopTrueAtStart(program, program.stops[stopAtStart].name, state));
  }
  noteHolds(course, 0, state, 0);
  keepBranches(course);

  const choice = options.method ?? 'automatic';
  const methods: StepMethod[] = [choice === 'implicit' ? implicitMethodOf(course) : course.explicit];
  let method = methods[0];
  followState(tolerances, state);
  method.begin(0, state, tolerances);
  if (!allFinite(method.startRates)) return fail(problems.ratesNotFinite(program, state, method.startRates));
  noteRates(course, method.startRates);
  let h = findStartingStep(course.startingStep, 0, state, method.startRates, tolerances, spanS);
  const leastScaleS = h;
  let t = 0;
  let accepted = 0;
  let rejected = 0;
  let changesInPlace = 0;
  let ended: Motion['ended'] | null = null;
  let stop = -1;
  const warnings: Problem[] = [];

  while (ended === null) {
    if (accepted + rejected >= maxSteps) return fail(problems.tooManySteps(program, maxSteps, t, state));
    if (looksForRest && t > maxTimeS) return fail(problems.stopNeverComes(program, maxTimeS, t, state));
    if (options.signal?.aborted === true) return fail(problems.interrupted(t));
    const reachesEnd = t + 1.001 * h >= endS;
    if (reachesEnd) h = endS - t;
    const scaleS = Math.max(t, leastScaleS);
    const error = method.attempt(h);
    let landing = error <= 1 ? noCrossing : Number.NaN;
    if (error <= 1 && program.watch !== null) {
      watcher.step[0] = t;
      watcher.step[1] = h;
      watcher.step[2] = method.writePiece(piece);
      landing = findLanding(course, t, h);
    }
    if (Number.isNaN(landing)) {
      rejected++;
      forgetPending(course);
      const finite = !Number.isNaN(error) && error > 1;
      const next = method.proposeStep(h, finite ? error : Number.NaN, false);
      if (!finite) watcher.index = findSwitchAtEdge(course, t, edgeShare * scaleS);
      if (finite || watcher.index < 0) {
        if (next < leastShare * scaleS) {
          return fail((finite ? problems.stepTooSmall : problems.notFinite)(program, t, state));
        }
        h = next;
        continue;
      }
      landing = 0;
    } else {
      accepted++;
    }
    const proposed = landing === 0 ? h : method.proposeStep(h, error, true);
    const lands = landing !== noCrossing;
    const length = lands && landing > 0 ? landOnCrossing(course, method, t, h, landing) : lands ? 0 : h;
    if (length > leastShare * t) {
      if (lands || program.watch === null) watcher.step[2] = method.writePiece(piece);
      commitPiece(course, t, length, piece, watcher.step[2]);
      t = reachesEnd && !lands ? endS : t + length;
      state.set(method.end);
      followState(tolerances, state);
      noteRates(course, method.endRates);
      changesInPlace = 0;
    }
    h = proposed;
    if (lands) {
      const index = watcher.index;
      changesInPlace++;
      const broken = changeBranches(course, t);
      if (broken !== null) return fail(problems.frictionProblem(program, broken, t, state));
      if (changesInPlace > chatterCount + watcher.count) {
        const guilty = Math.min(index, program.switches.length - 1);
        return fail(problems.chatters(program, guilty, t, state));
      }
      noteHolds(course, t, state, 0);
      stop = findTrueStop(course);
      if (stop >= 0) {
        ended = 'by a stop';
      } else {
        keepBranches(course);
        addBreak(course.track, t);
        method.begin(t, state, tolerances);
        if (looksForRest && flow.stickingCount > 0 && restsForEver(course, t)) {
          ended = 'at rest';
          warnings.push(problems.comesToRest(program, t, state));
        }
      }
    } else if (t === endS) {
      ended = 'in time';
    } else if (choice === 'automatic' && method.wantsChange(length)) {
      method = method === course.explicit ? implicitMethodOf(course) : course.explicit;
      if (!methods.includes(method)) methods.push(method);
      method.begin(t, state, tolerances);
    } else {
      method.advance();
    }
  }
  if (course.track.pieceCount === 0) return fail(problems.neverMoves(program, state));
  openViewer(viewer, p, course.constants, t);
  const motion = createMotion(viewer, {
    startS: 0,
    endS: t,
    stop: stop >= 0 ? program.stops[stop].name : null,
    ended,
    holds: listHolds(course),
    steps: {
      accepted,
      rejected,
      evaluations: flow.evaluations,
      method: methods.map(({ name }) => name),
    },
  });
  return succeed(motion, warnings);
}

/** Loads parameters and start; returns the end time (Infinity where only stops end the motion) or what is wrong. */
function beginCourse(course: Course, p: Float64Array): number | Problem {
  const { program, flow, state } = course;
  clearCourse(course);
  loadParameters(flow, p, course.constants);
  flow.inputs[program.inputs.time] = 0;
  program.start(flow.inputs, state);
  if (!allFinite(state)) return problems.startNotFinite(program, state);
  writeState(flow, 0, state);
  if (program.lasts === null) return Number.POSITIVE_INFINITY;
  const duration = new Float64Array(1);
  program.lasts(flow.inputs, duration);
  return duration[0] > 0 && duration[0] < Number.POSITIVE_INFINITY
    ? duration[0]
    : problems.durationNotPositive(duration[0]);
}

function allFinite(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i])) return false;
  return true;
}
