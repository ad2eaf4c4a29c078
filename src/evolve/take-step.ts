import type { Problem } from '../problem/index.ts';
import {
  commitPiece,
  findTrueStop,
  forgetPending,
  implicitMethodOf,
  keepBranches,
  noteHolds,
} from './course.ts';
import { noCrossing, sameMoment } from './crossing.ts';
import * as problems from './evolution-problems.ts';
import { findDueJump, makeJumps, movesWithinRounding, noteJumps } from './jump.ts';
import { changeBranches, findLanding, findSwitchAtEdge, landOnCrossing } from './landing.ts';
import { noteSizes, restsForEver } from './rest.ts';
import type { Run } from './run.ts';
import { followState } from './tolerances.ts';
import { addBreak } from './track.ts';

/** A step below this share of the time is too small to change it reliably. */
const leastShare = 8 * Number.EPSILON;
/** A switch this close, as a share of the time, is taken to be crossed where the rates end. */
const edgeShare = 1e-12;
/** A usual step is looked at in three places; a model that asks for far more in every step would take for ever. */
const looksPerStep = 10;
/** So many changes of branch without progress in time, beyond the number of switches, are chattering. */
const chatterCount = 16;
/** So many jumps in a row, each within this share of the time or with but rounding between, pile up at one moment. */
const quickJumpCount = 8;
const pileUpShare = 1e-9;
/** A step after a jump is at most so many times as long as the time since the jump before. */
const stretchOfFlight = 2;

/**
 * Tries one step: takes it, or up to the first crossing that matters, or makes the next try shorter.
 *
 * @returns what makes it impossible to go on, or null
 */
export function takeStep(run: Run): Problem | null {
  const spent = checkBudget(run);
  if (spent !== null) return spent;
  const { course, method, t } = run;
  const { program, watcher } = course;
  const { piece, step } = watcher;
  const wanted = Math.min(run.h, Math.max(run.longestStepS, run.longestShare * t));
  const reachesEnd = t + 1.001 * wanted >= run.endS;
  const h = reachesEnd ? run.endS - t : wanted;
  const error = method.attempt(h);
  let landing = error <= 1 ? noCrossing : Number.NaN;
  if (error <= 1 && program.watch !== null) {
    step[0] = t;
    step[1] = h;
    step[2] = method.writePiece(piece);
    landing = findLanding(course, t, h);
  }
  if (Number.isNaN(landing)) return shorten(run, h, error);
  run.accepted++;
  run.h = method.proposeStep(h, error, true);
  if (landing === noCrossing) {
    if (program.watch === null) step[2] = method.writePiece(piece);
    commit(run, h, reachesEnd ? run.endS : t + h, Number.POSITIVE_INFINITY);
    goOn(run, h);
    return null;
  }
  const length = landing > 0 ? landOnCrossing(course, method, t, h, landing) : 0;
  if (length > leastShare * t) {
    step[2] = method.writePiece(piece);
    commit(run, length, t + length, (t + length) * (1 - sameMoment));
  }
  forgetPending(course);
  return passCrossing(run);
}

function checkBudget(run: Run): Problem | null {
  const { course, t } = run;
  const { program, state } = course;
  const steps = run.accepted + run.rejected;
  if (steps >= run.maxSteps || course.watcher.samplesInAll >= looksPerStep * run.maxSteps) {
    return problems.tooManySteps(program, steps, t, state);
  }
  if (run.endS === Number.POSITIVE_INFINITY && t > run.maxTimeS) {
    return problems.stopNeverComes(program, run.maxTimeS, t, state);
  }
  return run.signal?.aborted === true ? problems.interrupted(t) : null;
}

/** A step failed: the next is shorter, or the rates end here at a switch, or nothing helps. */
function shorten(run: Run, h: number, error: number): Problem | null {
  const { course, t, method } = run;
  const { program, state, watcher } = course;
  const scaleS = Math.max(t, run.firstStepS);
  forgetPending(course);
  run.rejected++;
  if (error > 1) {
    run.h = method.proposeStep(h, error, false);
    return run.h < leastShare * scaleS ? problems.stepTooSmall(program, t, state) : null;
  }
  const edge = findSwitchAtEdge(course, t, edgeShare * scaleS);
  if (edge >= 0) {
    watcher.index = edge;
    return passCrossing(run);
  }
  run.h = method.proposeStep(h, Number.NaN, false);
  return run.h < leastShare * scaleS ? problems.notFinite(program, t, state) : null;
}

function commit(run: Run, length: number, to: number, until: number): void {
  const { course, method } = run;
  commitPiece(course, run.t, length, course.watcher.piece, course.watcher.step[2], until);
  run.t = to;
  course.state.set(method.end);
  followState(run.tolerances, course.state);
  noteSizes(course, method.endRates);
  run.changesInPlace = 0;
  course.released.fill(0);
}

function goOn(run: Run, length: number): void {
  const { course, method } = run;
  if (run.t === run.endS) {
    run.ended = 'in time';
  } else if (run.choice === 'automatic' && method.wantsChange(length)) {
    run.method = method === course.explicit ? implicitMethodOf(course) : course.explicit;
    if (!run.methods.includes(run.method)) run.methods.push(run.method);
    run.method.begin(run.t, course.state, run.tolerances);
  } else {
    method.advance();
  }
}

/** Jumps are made at the present moment; where they follow one another without end, the motion ends. */
function passJumps(run: Run): Problem | null {
  const { course, t } = run;
  const { program, state } = course;
  const first = findDueJump(course);
  const sinceS = t - run.jumpedAt;
  const fault = makeJumps(course, t, run.h);
  const isQuick = sinceS <= pileUpShare * t || movesWithinRounding(course, sinceS);
  run.quickJumps = isQuick ? run.quickJumps + 1 : 0;
  if (fault?.kind === 'branch') return problems.branchProblem(program, fault.fault, t, state);
  if (fault?.kind === 'not-finite') return problems.jumpNotFinite(program, fault.jump, t, state);
  if (fault !== null || run.quickJumps >= quickJumpCount) {
    run.ended = 'where jumps pile up';
    const warn = fault?.kind === 'stays' ? problems.jumpStays : problems.jumpsPileUp;
    run.warnings.push(warn(program, fault?.jump ?? first, t, state));
    return null;
  }
  // Jumps that follow faster and faster need steps that become shorter with them.
  run.h = Math.min(run.h, sinceS > 0 ? stretchOfFlight * sinceS : run.h);
  run.jumpedAt = t;
  followState(run.tolerances, state);
  noteHolds(course, t, state, 0);
  run.stop = findTrueStop(course);
  return null;
}

/** The evolution stands on the crossing `watcher.index`: branches change, and it may end. */
function passCrossing(run: Run): Problem | null {
  const { course, t } = run;
  const { program, state, watcher, flow } = course;
  const { index } = watcher;
  noteJumps(course);
  const fault = changeBranches(course, t);
  if (fault !== null) return problems.branchProblem(program, fault, t, state);
  run.changesInPlace++;
  if (run.changesInPlace > chatterCount + watcher.count) {
    const m = program.switches.length;
    if (index < m) return problems.chatters(program, index, t, state);
    const undecided = { kind: 'undecided', index: index - m, limit: 0 } as const;
    return problems.branchProblem(program, { kind: 'friction', fault: undecided }, t, state);
  }
  noteHolds(course, t, state, 0);
  run.stop = findTrueStop(course);
  if (run.stop < 0 && findDueJump(course) >= 0) {
    const stuck = passJumps(run);
    if (stuck !== null || run.ended !== null) return stuck;
  }
  if (run.stop >= 0) {
    run.ended = 'by a stop';
    return null;
  }
  keepBranches(course);
  addBreak(course.track, t);
  run.method.begin(t, state, run.tolerances);
  if (run.endS === Number.POSITIVE_INFINITY && flow.stickingCount > 0 && restsForEver(course, t)) {
    run.ended = 'at rest';
    run.warnings.push(problems.comesToRest(program, t, state));
  } else if (t >= run.endS) {
    run.ended = 'in time';
  }
  return null;
}
