import type { Node, Slot } from '../wasm/index.ts';
import { type Asked, drawStatus, type PerDraw } from './asked.ts';
import { fivePointGauss } from './five-point-gauss.ts';
import type { AskedSlots, Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import { type RootSlots, writeSearch } from './write-root.ts';

/** A sample that rounding puts a hair after the end is meant to be at the end. */
const grace = 1e-9;
/** More passes of a loop than any draw's readings: a bound, not a limit. */
const mostPasses = 0x3fffffff;

/** Places that the search for crossings uses: the stretch of the step at hand. */
export interface StretchSlots {
  readonly from: Slot;
  readonly passed: Slot;
  readonly slope: Slot;
  readonly to: Slot;
  readonly passedTo: Slot;
  readonly slopeTo: Slot;
  /** +1 where the signal grows, −1 where it falls. */
  readonly sense: Slot;
  readonly level: Slot;
  readonly searching: Slot;
  /** Where in the step the signal turns round, 2 where nowhere. */
  readonly turn: Slot;
  readonly inverse: InverseSlots;
}

/** Place in the stretch as a polynomial of the share u of its rise, and how its error shrinks in a step of Newton's. */
interface InverseSlots {
  readonly perRise: Slot;
  readonly middle: Slot;
  /** Coefficients of u, u², u²(u − m), u²(u − m)², u²(u − m)²(u − 1). */
  readonly terms: readonly Slot[];
  /** Error after a step over the square of the error before it. */
  readonly bend: Slot;
}

export function makeStretchSlots(kernel: Kernel): StretchSlots {
  const slot = () => kernel.slots.moving();
  return {
    from: slot(),
    passed: slot(),
    slope: slot(),
    to: slot(),
    passedTo: slot(),
    slopeTo: slot(),
    sense: slot(),
    level: slot(),
    searching: slot(),
    turn: slot(),
    inverse: {
      perRise: slot(),
      middle: slot(),
      terms: kernel.slots.movingMany(5),
      bend: slot(),
    },
  };
}

/** Says on which lanes a reading may fall into the step just taken, so that the motion inside it is wanted. */
export function writeLooks(kernel: Kernel, routine: Routine): void {
  const { graph: g } = kernel;
  const isTaken = kernel.isSet(kernel.accepted);
  const end = g.add(kernel.load(kernel.t), kernel.load(kernel.tried));
  const looks = kernel.wanted.map((wanted, index) => {
    const slots = kernel.asked[index];
    if (wanted.kind === 'samples') {
      const interval = kernel.perDraw(wanted.interval);
      const moment = nextLook(kernel, wanted, slots);
      return g.lessOrEqual(moment, g.add(end, g.multiply(g.constant(grace), interval)));
    }
    // A signal that turns round goes beyond its ends by less than its steepest slope takes it in the whole step.
    const [from, to] = [kernel.load(slots.from), kernel.load(slots.to)];
    const [before, after] = [kernel.load(slots.fromSlope), kernel.load(slots.toSlope)];
    const steepest = g.multiply(kernel.load(kernel.tried), g.max(g.abs(before), g.abs(after)));
    const turns = g.less(g.multiply(before, after), g.constant(0));
    const beyond = g.select(turns, steepest, g.constant(0));
    const least = g.subtract(g.min(from, to), beyond);
    const largest = g.add(g.max(from, to), beyond);
    // Which end counts depends on the sense, so a whole number at either end is looked at.
    return g.or(
      g.less(g.floor(least), g.floor(largest)),
      g.less(g.floor(g.negate(largest)), g.floor(g.negate(least))),
    );
  });
  const any = looks.reduce((a, b) => g.or(a, b));
  routine.assign([kernel.looks, g.select(g.and(isTaken, any), g.constant(1), g.constant(0))]);
}

/** The looks that a mean takes: those of the rule, and one at its end, so that a mean cut off by the end is not taken. */
const meanLooks: readonly (readonly [share: number, weight: number])[] = [
  ...fivePointGauss.map(([place, weight]) => [(1 + place) / 2, weight / 2] as const),
  [1, 0],
];

/** When the signal is looked at next for a sample. */
function nextLook(kernel: Kernel, wanted: Asked & { kind: 'samples' }, slots: AskedSlots): Node {
  const { graph: g } = kernel;
  const passed = g.multiply(kernel.load(slots.count), kernel.perDraw(wanted.interval));
  const begin = g.add(kernel.perDraw(wanted.start), passed);
  if (wanted.over === undefined) return begin;
  const share = ofLook(kernel, slots, ([place]) => place);
  return g.add(begin, g.multiply(share, kernel.perDraw(wanted.over)));
}

/** What the look at hand has of its rule. */
function ofLook(kernel: Kernel, slots: AskedSlots, of: (look: (typeof meanLooks)[number]) => number): Node {
  const { graph: g } = kernel;
  const part = kernel.load(slots.part);
  return meanLooks.reduceRight(
    (rest, look, index) => g.select(g.equal(part, g.constant(index)), g.constant(of(look)), rest),
    g.constant(0),
  );
}

/** Takes the samples that fall into the step just taken. */
export function writeSamples(
  kernel: Kernel,
  routine: Routine,
  wanted: Asked & { kind: 'samples' },
  slots: AskedSlots,
  cursors: number,
): void {
  const { graph: g } = kernel;
  const count = kernel.load(slots.count);
  const interval = kernel.perDraw(wanted.interval);
  const moment = nextLook(kernel, wanted, slots);
  const ends = g.or(kernel.isSet(kernel.stopped), kernel.isSet(kernel.reaches));
  const end = g.add(kernel.load(kernel.t), g.multiply(kernel.load(kernel.limit), kernel.load(kernel.tried)));
  const until = g.select(ends, g.add(end, g.multiply(g.constant(grace), interval)), end);
  const falls = g.and(kernel.isSet(kernel.accepted), g.lessOrEqual(moment, until));
  const hasRoom = g.less(count, g.constant(wanted.most));
  const takes = g.and(falls, hasRoom);
  const one = g.constant(1);
  const { over } = wanted;
  routine.whileAny(takes, mostPasses, () => {
    if (over === undefined) {
      routine.append(takes, signalAt(kernel, wanted.signal, moment), cursors);
      routine.assign([slots.count, g.select(takes, g.add(count, one), count)]);
    } else writeMeans(kernel, routine, { ...wanted, over }, slots, cursors, takes, until);
  });
  endWhereFull(kernel, routine, g.and(falls, g.not(hasRoom)));
}

/** A signal at a time in the step just taken. */
function signalAt(kernel: Kernel, signal: number, moment: Node): Node {
  const { graph: g } = kernel;
  const theta = g.divide(g.subtract(moment, kernel.load(kernel.t)), kernel.load(kernel.tried));
  return kernel.momentInStep(g.min(theta, kernel.load(kernel.limit))).signal(signal);
}

/** Takes a whole mean where it ends in the step, or else its next look: a mean may begin in one step and end in another. */
function writeMeans(
  kernel: Kernel,
  routine: Routine,
  wanted: Asked & { kind: 'samples'; over: PerDraw },
  slots: AskedSlots,
  cursors: number,
  takes: Node,
  until: Node,
): void {
  const { graph: g } = kernel;
  const [zero, one] = [g.constant(0), g.constant(1)];
  const [count, part, sum] = [slots.count, slots.part, slots.sum].map((slot) => kernel.load(slot));
  const over = kernel.perDraw(wanted.over);
  const begin = g.add(kernel.perDraw(wanted.start), g.multiply(count, kernel.perDraw(wanted.interval)));
  const isWhole = g.and(takes, g.and(g.equal(part, zero), g.lessOrEqual(g.add(begin, over), until)));
  const isPart = g.and(takes, g.not(isWhole));
  routine.whereAny(isWhole, () => {
    const mean = meanLooks
      .filter(([, weight]) => weight > 0)
      .map(([share, weight]) => {
        const moment = g.add(begin, g.multiply(g.constant(share), over));
        return g.multiply(g.constant(weight), signalAt(kernel, wanted.signal, moment));
      })
      .reduce((a, b) => g.add(a, b));
    routine.append(isWhole, mean, cursors);
    routine.assign([slots.count, g.select(isWhole, g.add(count, one), count)]);
  });
  routine.whereAny(isPart, () => {
    const isLast = g.equal(part, g.constant(meanLooks.length - 1));
    const completes = g.and(isPart, isLast);
    const seen = signalAt(kernel, wanted.signal, nextLook(kernel, wanted, slots));
    const added = g.add(
      sum,
      g.multiply(
        ofLook(kernel, slots, ([, weight]) => weight),
        seen,
      ),
    );
    routine.append(completes, sum, cursors);
    routine.assign(
      [slots.count, g.select(completes, g.add(count, one), count)],
      [slots.part, g.select(isPart, g.select(isLast, zero, g.add(part, one)), part)],
      [slots.sum, g.select(isPart, g.select(isLast, zero, added), sum)],
    );
  });
}

/** Takes the times in the step just taken at which the signal passes whole numbers of spacings. */
export function writeCrossings(
  kernel: Kernel,
  routine: Routine,
  wanted: Asked & { kind: 'crossings' },
  slots: AskedSlots,
  stretch: StretchSlots,
  root: RootSlots,
  cursors: number,
): void {
  const { graph: g } = kernel;
  const isTaken = kernel.isSet(kernel.accepted);
  const perSpacing = kernel.perSpacing(wanted);
  const look = (theta: Node): readonly [passed: Node, slope: Node] => {
    const moment = kernel.momentInStep(theta);
    const passed = g.multiply(g.subtract(moment.signal(wanted.signal), kernel.load(slots.base)), perSpacing);
    const slope = g.multiply(
      g.multiply(moment.signalSlope(wanted.signal), perSpacing),
      kernel.load(kernel.tried),
    );
    return [passed, slope];
  };
  const one = g.constant(1);
  const zero = g.constant(0);
  const isCut = g.and(isTaken, g.notEqual(kernel.load(kernel.limit), one));
  routine.whereAny(isCut, () => {
    const [passed, slope] = look(kernel.load(kernel.limit));
    routine.assign(
      [slots.to, g.select(isCut, passed, kernel.load(slots.to))],
      [
        slots.toSlope,
        g.select(isCut, g.divide(slope, kernel.load(kernel.tried)), kernel.load(slots.toSlope)),
      ],
    );
  });
  const h = kernel.load(kernel.tried);
  const start = kernel.load(slots.from);
  const end = kernel.load(slots.to);
  const startSlope = kernel.load(slots.fromSlope);
  const endSlope = kernel.load(slots.toSlope);
  const turns = g.and(isTaken, g.less(g.multiply(startSlope, endSlope), zero));
  routine.assign(
    [stretch.from, zero],
    [stretch.passed, start],
    [stretch.slope, g.multiply(startSlope, h)],
    [stretch.to, kernel.load(kernel.limit)],
    [stretch.passedTo, g.select(isTaken, end, start)],
    [stretch.slopeTo, g.multiply(endSlope, h)],
  );
  routine.whereAny(turns, () => {
    writeTurn(kernel, routine, root, turns, (theta) => look(theta)[1]);
    const [passed] = look(kernel.load(root.place));
    routine.assign(
      [stretch.to, g.select(turns, kernel.load(root.place), kernel.load(stretch.to))],
      [stretch.passedTo, g.select(turns, passed, kernel.load(stretch.passedTo))],
      [stretch.slopeTo, g.select(turns, zero, kernel.load(stretch.slopeTo))],
    );
  });
  writeStretch(kernel, routine, wanted, slots, stretch, root, cursors, look);
  routine.whereAny(turns, () => {
    routine.assign(
      [stretch.from, kernel.load(stretch.to)],
      [stretch.passed, kernel.load(stretch.passedTo)],
      [stretch.slope, zero],
      [stretch.to, kernel.load(kernel.limit)],
      [stretch.passedTo, g.select(turns, end, kernel.load(stretch.passedTo))],
      [stretch.slopeTo, g.multiply(endSlope, h)],
    );
    writeStretch(kernel, routine, wanted, slots, stretch, root, cursors, look);
  });
}

/** A change of place below this is the last: the signal is flat there, and what is missed counts with its square. */
const turnTolerance = 1e-9;

/**
 * Finds where in the step the signal turns round, by secants that keep the turn between them (the Illinois method):
 * the slope of the slope is not at hand.
 *
 * Source: M. Dowell and P. Jarratt 1971, BIT 11, 168, doi:10.1007/BF01934364
 */
function writeTurn(
  kernel: Kernel,
  routine: Routine,
  root: RootSlots,
  turns: Node,
  slopeAt: (theta: Node) => Node,
): void {
  const { graph: g } = kernel;
  const one = g.constant(1);
  const zero = g.constant(0);
  const half = g.constant(0.5);
  const limit = kernel.load(kernel.limit);
  routine.assign(
    [root.low, zero],
    [root.high, limit],
    [root.value, slopeAt(zero)],
    [root.slope, slopeAt(limit)],
    [root.place, g.constant(2)],
    [root.searching, g.select(turns, one, zero)],
  );
  const searching = kernel.isSet(root.searching);
  routine.whileAny(searching, 60, () => {
    const [low, high, place] = [root.low, root.high, root.place].map((slot) => kernel.load(slot));
    const [atLow, atHigh] = [root.value, root.slope].map((slot) => kernel.load(slot));
    const share = g.divide(atLow, g.subtract(atLow, atHigh));
    const next = g.max(low, g.min(g.add(low, g.multiply(share, g.subtract(high, low))), high));
    const slope = slopeAt(next);
    const isBefore = g.less(zero, g.multiply(slope, atLow));
    const change = g.abs(g.subtract(next, place));
    const goesOn = g.and(g.less(g.constant(turnTolerance), change), g.notEqual(slope, zero));
    // An end that stays twice counts half, so that the other comes nearer too.
    const keptLow = g.select(g.equal(place, high), g.multiply(half, atLow), atLow);
    const keptHigh = g.select(g.equal(place, low), g.multiply(half, atHigh), atHigh);
    const keep = (slot: Slot, changed: Node): readonly [Slot, Node] => [
      slot,
      g.select(searching, changed, kernel.load(slot)),
    ];
    routine.assign(
      keep(root.low, g.select(isBefore, next, low)),
      keep(root.high, g.select(isBefore, high, next)),
      keep(root.value, g.select(isBefore, slope, keptLow)),
      keep(root.slope, g.select(isBefore, keptHigh, slope)),
      keep(root.place, next),
      [root.searching, g.select(g.and(searching, goesOn), one, zero)],
    );
  });
}

/** The crossings in a stretch of the step in which the signal does not turn round. */
function writeStretch(
  kernel: Kernel,
  routine: Routine,
  wanted: Asked & { kind: 'crossings' },
  slots: AskedSlots,
  stretch: StretchSlots,
  root: RootSlots,
  cursors: number,
  look: (theta: Node) => readonly [Node, Node],
): void {
  const { graph: g } = kernel;
  const one = g.constant(1);
  const zero = g.constant(0);
  const passedFrom = kernel.load(stretch.passed);
  const passedTo = kernel.load(stretch.passedTo);
  const newSense = g.select(g.less(passedTo, passedFrom), g.constant(-1), one);
  routine.assign(
    [stretch.sense, newSense],
    [stretch.level, g.add(g.floor(g.multiply(newSense, passedFrom)), one)],
  );
  const sense = kernel.load(stretch.sense);
  const level = kernel.load(stretch.level);
  const count = kernel.load(slots.count);
  const isActive = kernel.isSet(kernel.accepted);
  const comes = g.and(isActive, g.lessOrEqual(level, g.multiply(sense, passedTo)));
  const hasRoom = g.less(count, g.constant(wanted.most));
  const takes = g.and(comes, hasRoom);
  const keep = (slot: Slot, changed: Node): readonly [Slot, Node] => [
    slot,
    g.select(takes, changed, kernel.load(slot)),
  ];
  const place = kernel.load(root.place);
  routine.whereAny(takes, () => writeInverse(kernel, routine, stretch, look));
  routine.whileAny(takes, mostPasses, () => {
    const refine = (wanted: Node, from: Node): void => {
      const [passed, slope] = look(from);
      const step = g.divide(g.subtract(level, g.multiply(sense, passed)), g.multiply(sense, slope));
      const improved = g.add(from, step);
      const error = g.multiply(kernel.load(stretch.inverse.bend), g.multiply(step, step));
      const isInside = g.and(
        g.lessOrEqual(kernel.load(stretch.from), improved),
        g.lessOrEqual(improved, kernel.load(stretch.to)),
      );
      const isFound = g.and(
        isInside,
        g.lessOrEqual(error, g.constant(placeError * kernel.settings.relativeTolerance)),
      );
      routine.assign(
        [root.place, g.select(wanted, improved, place)],
        [root.searching, g.select(g.and(wanted, g.not(isFound)), one, zero)],
      );
    };
    // From a guess this good one step of Newton's is the last on most lanes, two on nearly all.
    refine(takes, placeByInverse(kernel, stretch));
    routine.whereAny(kernel.isSet(root.searching), () => refine(kernel.isSet(root.searching), place));
    const searching = kernel.isSet(root.searching);
    routine.whereAny(searching, () => {
      const [low, high] = [kernel.load(stretch.from), kernel.load(stretch.to)];
      const isUsable = g.and(g.lessOrEqual(low, place), g.lessOrEqual(place, high));
      const start = g.select(isUsable, place, guessPlace(kernel, stretch));
      routine.assign(
        [root.low, g.select(searching, low, kernel.load(root.low))],
        [root.high, g.select(searching, high, kernel.load(root.high))],
        [root.place, g.select(searching, start, place)],
      );
      writeSearch(kernel, routine, root, (theta) => {
        const [value, steepness] = look(theta);
        return [g.subtract(level, g.multiply(sense, value)), g.negate(g.multiply(sense, steepness))];
      });
    });
    const moment = g.add(kernel.load(kernel.t), g.multiply(place, kernel.load(kernel.tried)));
    routine.append(takes, moment, cursors);
    routine.assign(keep(slots.count, g.add(count, one)), keep(stretch.level, g.add(level, one)));
  });
  endWhereFull(kernel, routine, g.and(comes, g.not(hasRoom)));
}

/** Largest error of a place that is left standing, over the tolerance of the motion: a share of the step. */
const placeError = 0.1;

/**
 * Place by signal, the other way round: the polynomial of fifth degree through the ends and the middle of the stretch
 * with their slopes (divided differences with each node twice).
 */
function writeInverse(
  kernel: Kernel,
  routine: Routine,
  stretch: StretchSlots,
  look: (theta: Node) => readonly [Node, Node],
): void {
  const { graph: g } = kernel;
  const one = g.constant(1);
  const { inverse } = stretch;
  const sense = kernel.load(stretch.sense);
  const from = kernel.load(stretch.from);
  const to = kernel.load(stretch.to);
  const low = g.multiply(sense, kernel.load(stretch.passed));
  const rise = g.subtract(g.multiply(sense, kernel.load(stretch.passedTo)), low);
  const perRise = g.divide(one, rise);
  const half = g.multiply(g.constant(0.5), g.add(from, to));
  const [passed, slope] = look(half);
  const [first, middle, last] = [kernel.load(stretch.slope), slope, kernel.load(stretch.slopeTo)].map(
    g.abs,
    g,
  );
  const m = g.multiply(g.subtract(g.multiply(sense, passed), low), perRise);
  const rest = g.subtract(one, m);
  const byM = g.divide(one, m);
  const byRest = g.divide(one, rest);
  const between = (a: Node, b: Node, per: Node): Node => g.multiply(g.subtract(b, a), per);
  const [d0, d2, d4] = [first, middle, last].map((each) => g.divide(rise, each));
  const d1 = g.multiply(g.subtract(half, from), byM);
  const d3 = g.multiply(g.subtract(to, half), byRest);
  const e0 = between(d0, d1, byM);
  const e1 = between(d1, d2, byM);
  const e2 = between(d2, d3, byRest);
  const e3 = between(d3, d4, byRest);
  const f0 = between(e0, e1, byM);
  const f1 = g.subtract(e2, e1);
  const f2 = between(e2, e3, byRest);
  const k0 = g.subtract(f1, f0);
  const k1 = g.subtract(f2, f1);
  const change = g.max(g.abs(g.subtract(middle, first)), g.abs(g.subtract(last, middle)));
  const least = g.min(first, g.min(middle, last));
  const bend = g.divide(g.add(change, change), g.multiply(g.subtract(to, from), least));
  const terms = [d0, e0, f0, k0, g.subtract(k1, k0)];
  routine.assign(
    [inverse.perRise, perRise],
    [inverse.middle, m],
    ...inverse.terms.map((slot, i) => [slot, terms[i]] as const),
    [inverse.bend, bend],
  );
}

/** Where the polynomial has the level. */
function placeByInverse(kernel: Kernel, stretch: StretchSlots): Node {
  const { graph: g } = kernel;
  const { inverse } = stretch;
  const low = g.multiply(kernel.load(stretch.sense), kernel.load(stretch.passed));
  const u = g.multiply(g.subtract(kernel.load(stretch.level), low), kernel.load(inverse.perRise));
  const [a, b, c, d, e] = inverse.terms.map((slot) => kernel.load(slot));
  const v = g.subtract(u, kernel.load(inverse.middle));
  const outer = g.add(d, g.multiply(g.subtract(u, g.constant(1)), e));
  const inner = g.add(c, g.multiply(v, outer));
  const whole = g.add(a, g.multiply(u, g.add(b, g.multiply(v, inner))));
  return g.add(kernel.load(stretch.from), g.multiply(u, whole));
}

/** Where the cubic through both ends of the stretch, place by signal, has the level; its slopes are kept monotone. */
function guessPlace(kernel: Kernel, stretch: StretchSlots): Node {
  const { graph: g } = kernel;
  const sense = kernel.load(stretch.sense);
  const from = kernel.load(stretch.from);
  const width = g.subtract(kernel.load(stretch.to), from);
  const passed = g.multiply(sense, kernel.load(stretch.passed));
  const rise = g.subtract(g.multiply(sense, kernel.load(stretch.passedTo)), passed);
  const share = g.divide(g.subtract(kernel.load(stretch.level), passed), rise);
  const steepest = g.multiply(g.constant(3), width);
  const slopeAt = (slot: Slot): Node => {
    const slope = g.divide(rise, g.abs(kernel.load(slot)));
    return g.min(slope, steepest);
  };
  const a = slopeAt(stretch.slope);
  const b = slopeAt(stretch.slopeTo);
  // c0 + s(c1 + s(c2 + s c3)) with the values 0 and `width` and the slopes a and b
  const c2 = g.subtract(g.multiply(g.constant(3), width), g.add(g.add(a, a), b));
  const c3 = g.subtract(g.add(a, b), g.add(width, width));
  return g.add(from, g.multiply(share, g.add(a, g.multiply(share, g.add(c2, g.multiply(share, c3))))));
}

function endWhereFull(kernel: Kernel, routine: Routine, isFull: Node): void {
  const { graph: g } = kernel;
  routine.whereAny(isFull, () => {
    routine.assign(
      [kernel.accepted, g.select(isFull, g.constant(0), kernel.load(kernel.accepted))],
      ...kernel.endDraw(isFull, drawStatus.budget),
    );
  });
}
