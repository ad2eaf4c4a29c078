import type { Node, Slot } from '../wasm/index.ts';
import { type Asked, drawStatus } from './asked.ts';
import { endWhereFull, mostPasses } from './end-where-full.ts';
import type { AskedSlots, Kernel, Passed } from './kernel.ts';
import type { Routine } from './routine.ts';
import { type RootSlots, writeSearch } from './write-root.ts';

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

/** Takes the times in the step just taken at which the signal passes whole numbers of spacings. */
export function writeCrossings(
  kernel: Kernel,
  routine: Routine,
  wanted: Passed,
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

/** Whether a signal is back below the last of the levels that it has passed. */
export function isBehind(
  kernel: Kernel,
  wanted: Asked & { kind: 'passages' },
  passed: Node,
  signal: Node,
): Node {
  const { graph: g } = kernel;
  const last = kernel.levelAfter(wanted, g.subtract(passed, g.constant(1)));
  return g.and(g.less(g.constant(0), passed), g.less(signal, last));
}

/** The crossings in a stretch of the step in which the signal does not turn round. */
function writeStretch(
  kernel: Kernel,
  routine: Routine,
  wanted: Passed,
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
  const count = kernel.load(slots.count);
  const isActive = kernel.isSet(kernel.accepted);
  const first =
    wanted.kind === 'passages'
      ? g.select(
          g.less(zero, newSense),
          kernel.levelAfter(wanted, count),
          g.constant(Number.POSITIVE_INFINITY),
        )
      : g.add(g.floor(g.multiply(newSense, passedFrom)), one);
  routine.assign([stretch.sense, newSense], [stretch.level, first]);
  if (wanted.kind === 'passages') {
    const fallsBack = g.and(isActive, isBehind(kernel, wanted, count, passedTo));
    routine.whereAny(fallsBack, () => {
      routine.assign(
        [kernel.accepted, g.select(fallsBack, zero, kernel.load(kernel.accepted))],
        ...kernel.endDraw(fallsBack, drawStatus.general),
      );
    });
  }
  const sense = kernel.load(stretch.sense);
  const level = kernel.load(stretch.level);
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
    const more = g.add(count, one);
    const next = wanted.kind === 'passages' ? kernel.levelAfter(wanted, more) : g.add(level, one);
    routine.assign(keep(slots.count, more), keep(stretch.level, next));
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
