import type { Node, Slot } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import { callRates } from './write-attempt.ts';
import type { Assignment } from './write-block.ts';

/** As in the evolution. */
const leastShare = 8 * Number.EPSILON;
const smallShare = 1e-3;
const turnTolerance = 1e-9;

/** Lets the absolute tolerances follow the size of the states, where none is given. */
export function followStates(kernel: Kernel, mask: Node, states: readonly Node[]): readonly Assignment[] {
  const { graph: g, settings } = kernel;
  if (settings.absoluteTolerance !== undefined) return [];
  const share = g.constant(smallShare * settings.relativeTolerance);
  return kernel.absolute.map((slot, i): Assignment => {
    const known = kernel.load(slot);
    return [slot, g.select(mask, g.max(known, g.multiply(share, g.abs(states[i]))), known)];
  });
}

/** Goes on to the end of the step on the lanes that take it; elsewhere takes the next length. */
export function writeCommit(kernel: Kernel, routine: Routine, ratesFunction: number): void {
  const { graph: g } = kernel;
  const zero = g.constant(0);
  const isTaken = kernel.isSet(kernel.accepted);
  const reaches = kernel.isSet(kernel.reaches);
  const t = kernel.load(kernel.t);
  const h = kernel.load(kernel.tried);
  const isGoal = g.and(isTaken, g.less(zero, kernel.load(kernel.landing)));
  const isLast = g.and(isTaken, g.or(reaches, kernel.isSet(kernel.stopped)));
  const nextT = g.select(
    reaches,
    kernel.load(kernel.endS),
    g.add(t, g.multiply(kernel.load(kernel.limit), h)),
  );
  const proposed = kernel.load(kernel.proposed);
  const nextH = g.select(isGoal, kernel.load(kernel.afterLanding), proposed);
  const scale = g.max(t, kernel.load(kernel.firstStep));
  const isActive = kernel.isSet(kernel.active);
  const tooSmall = g.and(
    g.and(isActive, g.not(isTaken)),
    g.not(g.lessOrEqual(g.multiply(g.constant(leastShare), scale), proposed)),
  );
  const tooLong = g.and(g.and(isTaken, g.not(reaches)), g.less(g.constant(kernel.settings.maxTimeS), nextT));
  const [, status] = kernel.endDraw(g.or(tooSmall, tooLong), drawStatus.budget);
  const takes = (slot: Slot, value: Node): Assignment => [slot, g.select(isTaken, value, kernel.load(slot))];
  routine.assign(
    takes(kernel.t, nextT),
    [kernel.h, g.select(isTaken, nextH, proposed)],
    takes(kernel.halvings, zero),
    ...kernel.states.map((slot, i) => takes(slot, kernel.load(kernel.endStates[i]))),
    ...kernel.rates.map((slot, i) => takes(slot, kernel.load(kernel.endRates[i]))),
    ...followStates(
      kernel,
      isTaken,
      kernel.endStates.map((slot) => kernel.load(slot)),
    ),
    ...kernel.watched.flatMap((watched) => [
      takes(watched.value, kernel.load(watched.endValue)),
      takes(watched.slope, kernel.load(watched.endSlope)),
    ]),
    ...kernel.asked.flatMap((slots, index) =>
      kernel.wanted[index].kind !== 'samples'
        ? [takes(slots.from, kernel.load(slots.to)), takes(slots.fromSlope, kernel.load(slots.toSlope))]
        : [],
    ),
    [kernel.active, g.select(g.or(isLast, g.or(tooSmall, tooLong)), zero, kernel.load(kernel.active))],
    status,
  );
  if (!kernel.watched.some(({ landing }) => landing)) return;
  const landed = g.and(isTaken, g.less(zero, kernel.load(kernel.landing)));
  routine.whereAny(landed, () => writeLanding(kernel, routine, ratesFunction, landed));
}

/** The branches once the switches are turned on which some steps were meant to end. */
function branchesAfter(kernel: Kernel, landed: Node): readonly Node[] {
  const { graph: g } = kernel;
  const goal = kernel.load(kernel.landing);
  return kernel.branches.map((slot, index) => {
    const at = kernel.watched.findIndex((one) => one.kind === 'switch' && one.landing && one.index === index);
    const known = kernel.load(slot);
    if (at < 0) return known;
    return g.select(g.and(landed, g.equal(goal, g.constant(at + 1))), g.negate(known), known);
  });
}

/** A step is taken by the switch's own reckoning only where it ends so near, as a share of its length. */
const nearest = 0.01;

/**
 * Corrects the ends of steps that were to end on a switch: what the place in the first try missed is made up by the
 * slope there, time and state alike. Says which of them end the motion.
 */
export function writeArrival(kernel: Kernel, routine: Routine, landed: Node): void {
  const { graph: g } = kernel;
  const one = g.constant(1);
  const h = kernel.load(kernel.tried);
  const goal = kernel.load(kernel.landing);
  let miss = g.constant(0);
  for (const [at, watched] of kernel.watched.entries()) {
    if (!watched.landing) continue;
    const own = g.negate(g.divide(kernel.load(watched.endValue), kernel.load(watched.endSlope)));
    miss = g.select(g.equal(goal, g.constant(at + 1)), own, miss);
  }
  const isNear = g.less(g.abs(miss), g.multiply(g.constant(nearest), h));
  const share = g.select(isNear, g.divide(miss, h), g.constant(0));
  routine.assign([kernel.limit, g.select(landed, g.add(one, share), kernel.load(kernel.limit))]);
  const states = kernel.statesInStep(kernel.load(kernel.limit));
  const { stops, stop } = kernel.stopsTrue(branchesAfter(kernel, landed));
  const isStopped = g.and(landed, stops);
  routine.assign(
    ...kernel.endStates.map((slot, i): Assignment => [slot, g.select(landed, states[i], kernel.load(slot))]),
    [kernel.stop, g.select(isStopped, stop, kernel.load(kernel.stop))],
    [kernel.stopped, g.select(isStopped, one, kernel.load(kernel.stopped))],
  );
}

/** The steps ended on a switch: its branch changes, and everything that depends on it. */
function writeLanding(kernel: Kernel, routine: Routine, ratesFunction: number, landed: Node): void {
  const { graph: g, watched, program } = kernel;
  const zero = g.constant(0);
  const goal = kernel.load(kernel.landing);
  const branches = branchesAfter(kernel, landed);
  const t = kernel.load(kernel.t);
  const states = kernel.states.map((slot) => kernel.load(slot));
  routine.assign(
    ...kernel.branches.map((slot, index): Assignment => [slot, branches[index]]),
    ...program.holdsWhile.flatMap((_, index) => kernel.noteFailure(index, landed, branches, t, states)),
  );
  callRates(kernel, routine, ratesFunction, t, states);
  const moment = kernel.at(t, states);
  const isActive = g.and(landed, kernel.isSet(kernel.active));
  // A switching function that does not go on across its zero is driven back: chattering.
  let isWrong = g.less(zero, zero);
  const fresh = watched.flatMap((one, at): readonly Assignment[] => {
    const [value, slope] = moment.watched(one);
    const isGoal = g.equal(goal, g.constant(at + 1));
    const oldSlope = g.abs(kernel.load(one.slope));
    const turnsBack = g.and(isGoal, g.less(slope, g.multiply(g.constant(turnTolerance), oldSlope)));
    const alsoCrossed = g.and(g.not(isGoal), g.and(g.less(value, zero), g.less(slope, zero)));
    isWrong = g.or(isWrong, g.or(turnsBack, alsoCrossed));
    return [
      [one.value, g.select(landed, value, kernel.load(one.value))],
      [one.slope, g.select(landed, slope, kernel.load(one.slope))],
    ];
  });
  const readings = kernel.wanted.flatMap((wanted, index): readonly Assignment[] => {
    if (wanted.kind === 'samples') return [];
    const slot = kernel.asked[index].fromSlope;
    const slope = g.multiply(moment.signalSlope(wanted.signal), kernel.perSpacing(wanted));
    return [[slot, g.select(landed, slope, kernel.load(slot))]];
  });
  // A mean that has begun on one branch and goes on on another is not what its rule is made for.
  const isCut = kernel.wanted.flatMap((wanted, index) =>
    wanted.kind === 'samples' && wanted.over !== undefined
      ? [g.less(zero, kernel.load(kernel.asked[index].part))]
      : [],
  );
  routine.assign(
    ...kernel.rates.map(
      (slot, i): Assignment => [
        slot,
        g.select(landed, kernel.load(kernel.resultRates[i]), kernel.load(slot)),
      ],
    ),
    ...fresh,
    ...readings,
    [kernel.landing, g.select(landed, zero, goal)],
    ...kernel.endDraw(
      g.and(
        isActive,
        isCut.reduce((a, b) => g.or(a, b), isWrong),
      ),
      drawStatus.general,
    ),
  );
}
