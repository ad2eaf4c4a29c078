import type { Node } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel, Moment, Watched } from './kernel.ts';
import type { Routine } from './routine.ts';
import type { Assignment } from './write-block.ts';
import { type RootSlots, writeSearch } from './write-root.ts';

/** As in the evolution: how far a value may miss the cubic through its neighbours, and what counts as zero. */
const resolution = 0.1;
const noise = 1e-13;
/** Steps that cannot be judged are halved so many times before the draw is left to the general evolution. */
const mostHalvings = 12;
const leastShare = 8 * Number.EPSILON;

/**
 * Looks at the step for crossings: of each watched function whether it stays, crosses once in a half, or cannot be
 * judged. A step that cannot be judged is not taken, and the next is half as long.
 *
 * A function is judged by its cubic through values and slopes at both ends, which the middle must confirm; its
 * Bézier points show whether it can have gone to the other side and come back.
 */
export function writeCheck(kernel: Kernel, routine: Routine): void {
  const { graph: g, watched, asked } = kernel;
  const zero = g.constant(0);
  const one = g.constant(1);
  const middle = watched.length > 0 ? kernel.momentInStep(g.constant(0.5)) : momentHalfway(kernel);
  const t = g.add(kernel.load(kernel.t), kernel.load(kernel.tried));
  const end = kernel.at(
    t,
    kernel.endStates.map((slot) => kernel.load(slot)),
  );
  const h = kernel.load(kernel.tried);
  const isTaken = kernel.isSet(kernel.accepted);
  const assignments: Assignment[] = [];
  let doubt: Node | null = null;
  const doubtWhere = (mask: Node): void => {
    doubt = doubt === null ? mask : g.or(doubt, mask);
  };
  for (const [index, watch] of watched.entries()) {
    const shape = judge(kernel, watch, index, middle.watched(watch), end.watched(watch), h);
    doubtWhere(g.not(g.or(shape.stays, g.or(shape.crossesFirst, shape.crossesSecond))));
    const [endValue, endSlope] = end.watched(watch);
    const half = g.select(shape.crossesFirst, one, g.select(shape.crossesSecond, g.constant(2), zero));
    assignments.push(
      [watch.endValue, endValue],
      [watch.endSlope, endSlope],
      [watch.crossed, g.select(shape.stays, zero, half)],
      [watch.place, g.constant(2)],
    );
  }
  for (const [index, slots] of asked.entries()) {
    const wanted = kernel.wanted[index];
    if (wanted.kind === 'samples') continue;
    const perSpacing = kernel.perSpacing(wanted);
    const slope = g.multiply(end.signalSlope(wanted.signal), perSpacing);
    const slopeBetween = g.multiply(middle.signalSlope(wanted.signal), perSpacing);
    const passed = g.multiply(g.subtract(end.signal(wanted.signal), kernel.load(slots.base)), perSpacing);
    assignments.push([slots.to, passed], [slots.toSlope, slope]);
    const first = kernel.load(slots.fromSlope);
    // The slope as a parabola through three points: its middle Bézier point shows whether it can turn twice.
    const control = g.subtract(
      g.add(slopeBetween, slopeBetween),
      g.multiply(g.constant(0.5), g.add(first, slope)),
    );
    const rises = g.and(
      g.lessOrEqual(zero, first),
      g.and(g.lessOrEqual(zero, control), g.lessOrEqual(zero, slope)),
    );
    const falls = g.and(
      g.lessOrEqual(first, zero),
      g.and(g.lessOrEqual(control, zero), g.lessOrEqual(slope, zero)),
    );
    const turns = g.less(g.multiply(first, slope), zero);
    doubtWhere(g.not(g.or(rises, g.or(falls, turns))));
  }
  if (doubt === null) return;
  routine.assign(...assignments, [kernel.doubt, g.select(g.and(isTaken, doubt), one, zero)]);
  const isDoubtful = kernel.isSet(kernel.doubt);
  routine.whereAny(isDoubtful, () => {
    const halvings = g.add(kernel.load(kernel.halvings), one);
    const gaveUp = g.and(isDoubtful, g.less(g.constant(mostHalvings), halvings));
    routine.assign(
      [kernel.accepted, g.select(isDoubtful, zero, kernel.load(kernel.accepted))],
      [kernel.proposed, g.select(isDoubtful, g.multiply(g.constant(0.5), h), kernel.load(kernel.proposed))],
      [kernel.halvings, g.select(isDoubtful, halvings, kernel.load(kernel.halvings))],
      [kernel.landing, g.select(isDoubtful, zero, kernel.load(kernel.landing))],
      ...kernel.endDraw(gaveUp, drawStatus.general),
    );
  });
}

/** The middle of the step by the cubic through its ends: near enough to see whether a signal turns round. */
function momentHalfway(kernel: Kernel): Moment {
  const { graph: g } = kernel;
  const h = kernel.load(kernel.tried);
  const states = kernel.states.map((slot, i) => {
    const ends = g.multiply(g.constant(0.5), g.add(kernel.load(slot), kernel.load(kernel.endStates[i])));
    const bend = g.subtract(kernel.load(kernel.rates[i]), kernel.load(kernel.endRates[i]));
    return g.add(ends, g.multiply(g.multiply(g.constant(0.125), h), bend));
  });
  return kernel.at(g.add(kernel.load(kernel.t), g.multiply(g.constant(0.5), h)), states);
}

interface Shape {
  readonly stays: Node;
  readonly crossesFirst: Node;
  readonly crossesSecond: Node;
}

function judge(
  kernel: Kernel,
  watched: Watched,
  index: number,
  middle: readonly [Node, Node],
  end: readonly [Node, Node],
  h: Node,
): Shape {
  const { graph: g } = kernel;
  const startValue = kernel.load(watched.value);
  const startSlope = g.multiply(kernel.load(watched.slope), h);
  const [middleValue] = middle;
  const middleSlope = g.multiply(middle[1], h);
  const [endValue] = end;
  const endSlope = g.multiply(end[1], h);
  const size = g.max(g.abs(startValue), g.max(g.abs(middleValue), g.abs(endValue)));
  const zero = g.multiply(g.constant(-noise), size);
  const half = g.constant(0.5);
  const cubic = g.add(
    g.multiply(half, g.add(startValue, endValue)),
    g.multiply(g.constant(0.125), g.subtract(startSlope, endSlope)),
  );
  const cubicSlope = g.subtract(
    g.multiply(g.constant(1.5), g.subtract(endValue, startValue)),
    g.multiply(g.constant(0.25), g.add(startSlope, endSlope)),
  );
  const follows = g.and(
    g.lessOrEqual(g.abs(g.subtract(middleValue, cubic)), g.multiply(g.constant(resolution), size)),
    g.lessOrEqual(g.abs(g.subtract(middleSlope, cubicSlope)), g.multiply(g.constant(4 * resolution), size)),
  );
  const sixth = g.constant(1 / 6);
  const ahead = (value: Node, slope: Node): Node =>
    g.lessOrEqual(zero, g.add(value, g.multiply(slope, sixth)));
  const behind = (value: Node, slope: Node): Node =>
    g.lessOrEqual(zero, g.subtract(value, g.multiply(slope, sixth)));
  const middleIsAcross = g.less(middleValue, zero);
  const endIsAcross = g.less(endValue, zero);
  const firstStays = g.and(
    g.not(middleIsAcross),
    g.and(ahead(startValue, startSlope), behind(middleValue, middleSlope)),
  );
  const secondStays = g.and(
    g.not(endIsAcross),
    g.and(ahead(middleValue, middleSlope), behind(endValue, endSlope)),
  );
  const nought = g.constant(0);
  const stays = g.and(follows, g.and(firstStays, secondStays));
  const isGoal = g.equal(kernel.load(kernel.landing), g.constant(index + 1));
  return {
    stays: watched.landing ? g.or(stays, isGoal) : stays,
    crossesFirst: g.and(follows, g.and(middleIsAcross, g.less(nought, startValue))),
    crossesSecond: g.and(follows, g.and(firstStays, g.and(endIsAcross, g.less(nought, middleValue)))),
  };
}

/** Whether any watched function crosses in a step that is taken. */
export function anyCrosses(kernel: Kernel): Node | null {
  const { graph: g } = kernel;
  if (kernel.watched.length === 0) return null;
  const crossed = kernel.watched.map(({ crossed: slot }) => kernel.load(slot)).reduce((a, b) => g.add(a, b));
  return g.and(kernel.isSet(kernel.accepted), g.less(g.constant(0), crossed));
}

/**
 * Finds the places of the crossings in the step and does what follows from them, in their order: a step that must
 * end at one is tried again with that length; conditions that become false are noted.
 */
export function writeEvents(kernel: Kernel, routine: Routine, root: RootSlots): void {
  const { graph: g, watched } = kernel;
  const isTaken = kernel.isSet(kernel.accepted);
  for (const one of watched) writePlace(kernel, routine, root, one, isTaken);

  const nowhere = g.constant(2);
  const least = (places: readonly Watched[]): Node =>
    places.map(({ place }) => kernel.load(place)).reduce((a, b) => g.min(a, b), nowhere);
  const landings = watched.filter(({ landing }) => landing);
  const frictions = watched.filter(({ kind }) => kind === 'friction');
  const passings = watched.filter(({ kind, landing }) => kind === 'switch' && !landing);

  if (landings.length > 0) {
    const theta = least(landings);
    const goes = g.and(isTaken, g.and(g.less(theta, nowhere), g.lessOrEqual(theta, least(frictions))));
    const length = g.multiply(theta, kernel.load(kernel.tried));
    const scale = g.max(kernel.load(kernel.t), kernel.load(kernel.firstStep));
    const tooShort = g.lessOrEqual(length, g.multiply(g.constant(leastShare), scale));
    const goal = landings.reduce(
      (found, one) =>
        g.select(g.equal(kernel.load(one.place), theta), g.constant(watched.indexOf(one) + 1), found),
      g.constant(0),
    );
    routine.assign(
      [kernel.landing, g.select(goes, goal, kernel.load(kernel.landing))],
      [kernel.afterLanding, g.select(goes, kernel.load(kernel.proposed), kernel.load(kernel.afterLanding))],
      [kernel.proposed, g.select(goes, length, kernel.load(kernel.proposed))],
      [kernel.accepted, g.select(goes, g.constant(0), kernel.load(kernel.accepted))],
      ...kernel.endDraw(g.and(goes, tooShort), drawStatus.general),
      ...watched.map(({ place }): Assignment => [place, g.select(goes, nowhere, kernel.load(place))]),
    );
  }
  const before = least(frictions);
  const theta = least(passings);
  const goesOn = g.and(
    kernel.isSet(kernel.accepted),
    g.and(g.less(theta, nowhere), g.lessOrEqual(theta, before)),
  );
  if (passings.length > 0) {
    routine.whileAny(goesOn, 4 * passings.length, () =>
      writePassing(kernel, routine, passings, theta, goesOn),
    );
  }
  if (frictions.length > 0) {
    const sticks = g.and(kernel.isSet(kernel.accepted), g.less(before, nowhere));
    routine.assign(
      [kernel.accepted, g.select(sticks, g.constant(0), kernel.load(kernel.accepted))],
      ...kernel.endDraw(sticks, drawStatus.general),
    );
  }
}

/** Turns the switches that are crossed first, and notes what that makes of conditions. */
function writePassing(
  kernel: Kernel,
  routine: Routine,
  passings: readonly Watched[],
  theta: Node,
  goesOn: Node,
): void {
  const { graph: g, program } = kernel;
  const hit = passings.map(({ place }) => g.and(goesOn, g.equal(kernel.load(place), theta)));
  const branches = kernel.branches.map((slot, index) => {
    const known = kernel.load(slot);
    const at = passings.findIndex((one) => one.index === index);
    return at < 0 ? known : g.select(hit[at], g.negate(known), known);
  });
  const states = kernel.statesInStep(theta);
  const moment = g.add(kernel.load(kernel.t), g.multiply(theta, kernel.load(kernel.tried)));
  const nowhere = g.constant(2);
  routine.assign(
    ...passings.map((one): Assignment => [kernel.branches[one.index], branches[one.index]]),
    ...passings.map((one, at): Assignment => [one.place, g.select(hit[at], nowhere, kernel.load(one.place))]),
    // What was seen at the end of the step was seen from the old side.
    ...passings.flatMap((one, at) =>
      [one.endValue, one.endSlope].map((slot): Assignment => {
        const seen = kernel.load(slot);
        return [slot, g.select(hit[at], g.negate(seen), seen)];
      }),
    ),
    ...program.holdsWhile.flatMap((_, index) => kernel.noteFailure(index, goesOn, branches, moment, states)),
  );
}

function writePlace(kernel: Kernel, routine: Routine, root: RootSlots, one: Watched, isTaken: Node): void {
  const { graph: g } = kernel;
  const crossed = kernel.load(one.crossed);
  const searching = g.and(isTaken, g.less(g.constant(0), crossed));
  routine.whereAny(searching, () => {
    const isSecond = g.less(g.constant(1), crossed);
    const low = g.select(isSecond, g.constant(0.5), g.constant(0));
    const high = g.select(isSecond, g.constant(1), g.constant(0.5));
    routine.assign(
      [root.low, low],
      [root.high, high],
      [root.place, g.multiply(g.constant(0.5), g.add(low, high))],
      [root.searching, g.select(searching, g.constant(1), g.constant(0))],
    );
    writeSearch(kernel, routine, root, (theta) => {
      const [value, slope] = kernel.momentInStep(theta).watched(one);
      return [value, g.multiply(slope, kernel.load(kernel.tried))];
    });
    routine.assign([one.place, g.select(searching, kernel.load(root.place), kernel.load(one.place))]);
  });
}
