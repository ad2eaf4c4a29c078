import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import { isBehind } from './write-crossings.ts';
import { grace, nextLook } from './write-samples.ts';

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
    if (wanted.kind === 'passages') {
      const passed = kernel.load(slots.count);
      const comes = g.lessOrEqual(kernel.levelAfter(wanted, passed), largest);
      return g.or(comes, isBehind(kernel, wanted, passed, least));
    }
    // Which end counts depends on the sense, so a whole number at either end is looked at.
    return g.or(
      g.less(g.floor(least), g.floor(largest)),
      g.less(g.floor(g.negate(largest)), g.floor(g.negate(least))),
    );
  });
  const any = looks.reduce((a, b) => g.or(a, b));
  routine.assign([kernel.looks, g.select(g.and(isTaken, any), g.constant(1), g.constant(0))]);
}
