import type { Node } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import { callRates } from './write-attempt.ts';
import type { Assignment } from './write-block.ts';
import { followStates } from './write-commit.ts';

/** As in the evolution: rounding of a state, least tolerance, equality of limit and holding value. */
const rounding = 1e-13;
const leastAbsolute = 1e-15;
const equality = 1e-12;
const guessedSpanS = 1;
const shareOfSpan = 1e-3;
const aim = 0.01;
const nowhere = { start: 0, end: 0 };

/** Starts all lanes: start values, branches, first rates, first step. */
export function writeStart(
  kernel: Kernel,
  routine: Routine,
  prepareFunction: number,
  ratesFunction: number,
): void {
  const { graph: g, program, settings } = kernel;
  const { trees } = program;
  const zero = g.constant(0);
  const one = g.constant(1);
  routine.call(prepareFunction);
  const starts = trees.starts.map((tree) => kernel.onceADraw(tree));
  const infinity = g.constant(Number.POSITIVE_INFINITY);
  const lasts = trees.lasts === null ? infinity : kernel.onceADraw(trees.lasts);
  let isSound =
    trees.lasts === null ? g.equal(zero, zero) : g.and(g.less(zero, lasts), g.less(lasts, infinity));
  // A parameter that is not a finite number is for the general way, which says so.
  for (const name of kernel.rows.derived.keys()) {
    isSound = g.and(
      isSound,
      isFiniteNumber(kernel, kernel.onceADraw({ kind: 'name', name, primes: 0, span: nowhere })),
    );
  }
  for (const condition of kernel.rows.among) {
    isSound = g.and(isSound, g.notEqual(kernel.onceADraw(condition), zero));
  }
  for (const start of starts) isSound = g.and(isSound, isFiniteNumber(kernel, start));
  for (const wanted of kernel.wanted) {
    if (wanted.kind === 'passages') {
      const levels = wanted.levels.map((level) => kernel.perDraw(level));
      for (const [i, level] of levels.entries()) {
        isSound = g.and(isSound, isFiniteNumber(kernel, level));
        if (i > 0) isSound = g.and(isSound, g.lessOrEqual(levels[i - 1], level));
      }
      continue;
    }
    const values =
      wanted.kind === 'crossings' ? [wanted.spacing, wanted.offset] : [wanted.interval, wanted.start];
    const [step, first] = values.map((value) => kernel.perDraw(value));
    isSound = g.and(isSound, g.and(g.less(zero, step), isFiniteNumber(kernel, first)));
    if (wanted.kind === 'samples') isSound = g.and(isSound, g.lessOrEqual(zero, first));
  }
  routine.assign(
    [kernel.t, zero],
    [kernel.endS, lasts],
    [kernel.active, g.select(isSound, one, zero)],
    [kernel.status, g.select(isSound, zero, g.constant(drawStatus.notFinite))],
    [kernel.stop, g.constant(-1)],
    [kernel.landing, zero],
    [kernel.afterLanding, zero],
    [kernel.halvings, zero],
    ...kernel.states.map((slot, i): Assignment => [slot, starts[i]]),
    ...kernel.absolute.map(
      (slot): Assignment => [slot, g.constant(settings.absoluteTolerance ?? leastAbsolute)],
    ),
    ...kernel.failedAt.map((slot): Assignment => [slot, g.constant(Number.NaN)]),
    ...kernel.failedState.flat().map((slot): Assignment => [slot, g.constant(Number.NaN)]),
    ...kernel.branches.map((slot): Assignment => [slot, one]),
    ...kernel.slips.map((slot, i): Assignment => {
      const { factor } = program.frictions[i];
      const name = trees.names[factor];
      const value = factor < 0 ? one : kernel.fixedName(name);
      if (value === undefined) throw new Error(`${name} has no value.`);
      return [slot, g.select(g.equal(kernel.lowering.settle(value), zero), zero, one)];
    }),
  );
  const t = kernel.load(kernel.t);
  const states = kernel.states.map((slot) => kernel.load(slot));
  if (kernel.watched.length > 0) writeBranches(kernel, routine, t, states);
  callRates(kernel, routine, ratesFunction, t, states);
  writeFirstStep(kernel, routine, ratesFunction, t, states);
  writeFirstLook(kernel, routine, t, states);
}

function isFiniteNumber(kernel: Kernel, value: Node): Node {
  const { graph: g } = kernel;
  return g.less(g.abs(value), g.constant(Number.POSITIVE_INFINITY));
}

/**
 * Decides branches and slips as the evolution does, by the short way: a switching function that is clearly not zero
 * gives its side, one that is zero the side to which its slope takes it, one friction at rest slips where what it
 * would hold exceeds its limit. Whatever asks for more is left to the general evolution.
 */
function writeBranches(kernel: Kernel, routine: Routine, t: Node, states: readonly Node[]): void {
  const { graph: g, program } = kernel;
  const { trees } = program;
  const zero = g.constant(0);
  const one = g.constant(1);
  const followed = kernel.watched.filter(({ kind }) => kind === 'switch').map(({ index }) => index);
  const noises = kernel.slots.movingMany(2 * program.switches.length);
  const stillNoises = kernel.slots.movingMany(program.frictions.length);

  // Margins hold branches of switches that stand before them, so one pass in order decides all.
  const decided: Node[] = kernel.branches.map(() => one);
  for (const index of followed) {
    const margin = kernel.at(t, states, { branches: [...decided] }).value(trees.margins[index]);
    decided[index] = g.select(g.less(margin, zero), g.constant(-1), one);
  }
  routine.assign(...followed.map((index): Assignment => [kernel.branches[index], decided[index]]));

  const here = kernel.at(t, states);
  const shaken = states.map((_, i) =>
    kernel.at(
      t,
      states.map((state, k) => (k === i ? g.multiply(state, g.constant(1 + rounding)) : state)),
    ),
  );
  const noiseOf = (tree: (typeof trees.margins)[number]): Node => {
    const value = here.value(tree);
    return shaken
      .map((moment) => g.abs(g.subtract(moment.value(tree), value)))
      .reduce((sum, change) => g.add(sum, change));
  };
  routine.assign(
    ...followed.flatMap((index): readonly Assignment[] => [
      [noises[2 * index], noiseOf(trees.margins[index])],
      [noises[2 * index + 1], noiseOf(trees.marginSlopes[index])],
    ]),
    ...program.frictions.map((_, i): Assignment => [stillNoises[i], noiseOf(trees.velocities[i])]),
  );

  for (const [i] of program.frictions.entries()) {
    const slip = kernel.load(kernel.slips[i]);
    const isOn = g.notEqual(slip, zero);
    const velocity = here.value(trees.velocities[i]);
    const isStill = g.and(isOn, g.lessOrEqual(g.abs(velocity), kernel.load(stillNoises[i])));
    const q = program.frictions.length;
    const atRest = kernel.at(t, states, {
      slips: kernel.slips.map((slot, k) => (k === i ? zero : kernel.load(slot))),
    });
    const influence = atRest.value(trees.influences[i * q + i]);
    const free = atRest.value(trees.freeRates[i]);
    const limit = atRest.value(trees.limits[i]);
    // A friction whose limit is 0, as where effects are off, holds nothing: the free rate says which way it goes.
    const isNone = g.and(g.equal(limit, zero), g.equal(influence, zero));
    const held = g.select(isNone, free, g.negate(g.divide(free, influence)));
    const size = g.abs(held);
    const exceeds = g.less(g.multiply(g.constant(equality), g.add(size, limit)), g.subtract(size, limit));
    const isSound = g.or(isNone, g.and(g.less(influence, zero), g.lessOrEqual(zero, limit)));
    const slips = q > 1 ? g.less(zero, zero) : g.and(exceeds, isSound);
    const sense = g.select(g.less(zero, g.select(isStill, held, velocity)), one, g.constant(-1));
    routine.assign(
      [kernel.slips[i], g.select(isOn, sense, zero)],
      ...kernel.endDraw(g.and(kernel.isSet(kernel.active), g.and(isStill, g.not(slips))), drawStatus.general),
    );
  }
  for (const index of followed) {
    const { friction, frictionSign } = program.switches[index];
    const known = kernel.load(kernel.branches[index]);
    const slip = friction < 0 ? zero : kernel.load(kernel.slips[friction]);
    const isFree = g.equal(slip, zero);
    const value = here.value(trees.margins[index]);
    const noise = kernel.load(noises[2 * index]);
    const isTied = g.and(isFree, g.lessOrEqual(g.abs(value), noise));
    const slopeOn = (side: number): Node =>
      kernel
        .at(t, states, {
          branches: kernel.branches.map((slot, k) => (k === index ? g.constant(side) : kernel.load(slot))),
        })
        .value(trees.marginSlopes[index]);
    const clear = kernel.load(noises[2 * index + 1]);
    const rises = g.less(clear, slopeOn(1));
    const falls = g.less(slopeOn(-1), g.negate(clear));
    const undecided = g.and(isTied, g.not(g.or(rises, falls)));
    const bySlope = g.select(rises, one, g.constant(-1));
    const free = g.select(isTied, bySlope, known);
    routine.assign(
      [kernel.branches[index], g.select(isFree, free, g.multiply(slip, g.constant(frictionSign)))],
      ...kernel.endDraw(g.and(kernel.isSet(kernel.active), undecided), drawStatus.general),
    );
  }
}

/** The first step, as the evolution finds it. */
function writeFirstStep(
  kernel: Kernel,
  routine: Routine,
  ratesFunction: number,
  t: Node,
  states: readonly Node[],
): void {
  const { graph: g, settings, slots } = kernel;
  const zero = g.constant(0);
  const infinity = g.constant(Number.POSITIVE_INFINITY);
  const rates = kernel.rates.map((slot) => kernel.load(slot));
  const endS = kernel.load(kernel.endS);
  const span = g.select(g.less(endS, infinity), endS, g.constant(guessedSpanS));
  const guess = g.multiply(g.constant(shareOfSpan), span);
  const both = (a: Node, b: Node): Node => g.and(g.notEqual(a, zero), g.notEqual(b, zero));
  const everywhere = g.equal(zero, zero);
  const first = kernel.resultRates.map((slot) => kernel.load(slot));
  const isSound = first.map((rate) => isFiniteNumber(kernel, rate)).reduce((a, b) => g.and(a, b));
  routine.assign(
    ...kernel.rates.map((slot, i): Assignment => [slot, first[i]]),
    ...followStates(kernel, everywhere, states),
    ...kernel.endDraw(g.and(kernel.isSet(kernel.active), g.not(isSound)), drawStatus.notFinite),
  );
  const scaleSlot = slots.moving();
  const shortSlot = slots.moving();
  const firstScale = states
    .map((state, i) => g.select(both(state, rates[i]), g.abs(g.divide(state, rates[i])), infinity))
    .reduce((a, b) => g.min(a, b));
  const within = g.select(g.less(firstScale, infinity), g.min(firstScale, span), guess);
  routine.assign([scaleSlot, firstScale], [shortSlot, g.multiply(g.constant(1e-3), within)]);
  const short = kernel.load(shortSlot);
  callRates(
    kernel,
    routine,
    ratesFunction,
    g.add(t, short),
    states.map((state, i) => g.add(state, g.multiply(short, rates[i]))),
  );
  const changes = rates.map((rate, i) =>
    g.divide(g.subtract(kernel.load(kernel.resultRates[i]), rate), short),
  );
  let scale = kernel.load(scaleSlot);
  for (const [i, state] of states.entries()) {
    const root = g.sqrt(g.abs(g.divide(state, changes[i])));
    scale = g.min(scale, g.select(both(state, changes[i]), root, infinity));
  }
  scale = g.select(g.less(scale, infinity), scale, guess);
  let bySlope = zero;
  let byBend = zero;
  for (const [i, state] of states.entries()) {
    const slope = g.multiply(rates[i], scale);
    const bend = g.multiply(changes[i], g.multiply(scale, scale));
    const allowed = g.add(
      kernel.load(kernel.absolute[i]),
      g.multiply(g.constant(settings.relativeTolerance), g.add(g.abs(state), g.abs(slope))),
    );
    const slopeShare = g.divide(slope, allowed);
    const bendShare = g.divide(bend, allowed);
    bySlope = g.add(bySlope, g.multiply(slopeShare, slopeShare));
    byBend = g.add(byBend, g.multiply(bendShare, bendShare));
  }
  const size = g.sqrt(g.divide(g.max(bySlope, byBend), g.constant(states.length)));
  const share = g.sqrt(g.sqrt(g.sqrt(g.divide(g.constant(aim), size))));
  const step = g.select(g.less(zero, size), g.multiply(scale, share), scale);
  const isUsable = g.and(g.less(zero, step), g.less(step, infinity));
  const chosen = g.select(isUsable, g.min(g.min(step, scale), span), guess);
  routine.assign([kernel.h, chosen], [kernel.firstStep, chosen]);
}

/** Values of watched functions and signals at the start, conditions that are false from the beginning. */
function writeFirstLook(kernel: Kernel, routine: Routine, t: Node, states: readonly Node[]): void {
  const { graph: g, program } = kernel;
  const moment = kernel.at(t, states);
  const branches = kernel.branches.map((slot) => kernel.load(slot));
  const isActive = kernel.isSet(kernel.active);
  const isBeyond = kernel.wanted.flatMap((wanted) =>
    wanted.kind === 'passages'
      ? [g.lessOrEqual(kernel.levelAfter(wanted, g.constant(0)), moment.signal(wanted.signal))]
      : [],
  );
  routine.assign(
    ...kernel.watched.flatMap((watched): readonly Assignment[] => {
      const [value, slope] = moment.watched(watched);
      return [
        [watched.value, value],
        [watched.slope, slope],
      ];
    }),
    ...kernel.asked.flatMap((slots, index): readonly Assignment[] => {
      const wanted = kernel.wanted[index];
      if (wanted.kind === 'samples') {
        return [slots.count, slots.part, slots.sum].map((slot) => [slot, g.constant(0)]);
      }
      const signal = moment.signal(wanted.signal);
      const isLevels = wanted.kind === 'passages';
      const offset = isLevels ? signal : kernel.perDraw(wanted.offset);
      const base = isLevels
        ? g.constant(0)
        : g.subtract(signal, g.multiply(offset, kernel.perDraw(wanted.spacing)));
      return [
        [slots.count, g.constant(0)],
        [slots.base, base],
        [slots.from, offset],
        [slots.fromSlope, g.multiply(moment.signalSlope(wanted.signal), kernel.perSpacing(wanted))],
      ];
    }),
    ...program.holdsWhile.flatMap((_, index) => kernel.noteFailure(index, isActive, branches, t, states)),
    ...kernel.endDraw(
      g.and(
        isActive,
        isBeyond.reduce((a, b) => g.or(a, b), kernel.stopsTrue(branches).stops),
      ),
      drawStatus.general,
    ),
  );
}
