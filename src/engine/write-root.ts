import type { Node, Slot } from '../wasm/index.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';

/** A step of Newton's method below this share of the step is the last: the next would be below rounding. */
const lastStep = 1e-9;
const narrowest = 2e-15;
const mostRounds = 80;

/** Places that searches use, one after the other. */
export interface RootSlots {
  readonly low: Slot;
  readonly high: Slot;
  readonly place: Slot;
  readonly searching: Slot;
  /** What the caller's function found last, for use after the search. */
  readonly value: Slot;
  readonly slope: Slot;
}

export function makeRootSlots(kernel: Kernel): RootSlots {
  const { slots } = kernel;
  return {
    low: slots.moving(),
    high: slots.moving(),
    place: slots.moving(),
    searching: slots.moving(),
    value: slots.moving(),
    slope: slots.moving(),
  };
}

/**
 * Searches on the lanes that are `searching` for the place in the step where a function becomes negative: Newton's
 * method within a bracket, halved where a step would leave it.
 *
 * `low`, `high` and `place` must stand: the function is positive at `low`, not at `high`. A lane that has found its
 * place is left as it is.
 *
 * @param look the function and its slope by the share of the step, at a share
 */
export function writeSearch(
  kernel: Kernel,
  routine: Routine,
  root: RootSlots,
  look: (theta: Node) => readonly [value: Node, slope: Node],
): void {
  const { graph: g } = kernel;
  const searching = kernel.isSet(root.searching);
  routine.whileAny(searching, mostRounds, () => {
    const place = kernel.load(root.place);
    const [value, slope] = look(place);
    const isBefore = g.less(g.constant(0), value);
    const low = g.select(isBefore, place, kernel.load(root.low));
    const high = g.select(isBefore, kernel.load(root.high), place);
    const step = g.divide(value, slope);
    const proposed = g.subtract(place, step);
    const isLast = g.lessOrEqual(g.abs(step), g.constant(lastStep));
    const isInside = g.and(g.less(low, proposed), g.less(proposed, high));
    const clamped = g.max(low, g.min(proposed, high));
    const middle = g.multiply(g.constant(0.5), g.add(low, high));
    const next = g.select(isLast, clamped, g.select(isInside, proposed, middle));
    const isNarrow = g.lessOrEqual(g.subtract(high, low), g.constant(narrowest));
    const isExact = g.equal(value, g.constant(0));
    const isDone = g.or(isLast, g.or(isNarrow, isExact));
    const keep = (slot: Slot, changed: Node): readonly [Slot, Node] => [
      slot,
      g.select(searching, changed, kernel.load(slot)),
    ];
    routine.assign(
      keep(root.low, low),
      keep(root.high, high),
      keep(root.place, g.select(isExact, place, next)),
      keep(root.value, value),
      keep(root.slope, slope),
      [root.searching, g.select(g.and(searching, g.not(isDone)), g.constant(1), g.constant(0))],
    );
  });
}
