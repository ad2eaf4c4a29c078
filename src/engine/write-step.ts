import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import { writeAttempt, writeInside } from './write-attempt.ts';
import { writeArrival, writeCommit } from './write-commit.ts';
import { makeStretchSlots, writeCrossings } from './write-crossings.ts';
import { writeLooks } from './write-looks.ts';
import { makeRootSlots } from './write-root.ts';
import { writeSamples } from './write-samples.ts';
import { anyCrosses, writeCheck, writeEvents } from './write-watch.ts';

/**
 * Defines the routines of a step, each a function of its own, so that the compiler can improve them one by one
 * while they run, and gives back what writes a step as calls of them.
 */
export function callStep(
  kernel: Kernel,
  ratesFunction: number,
  cursorsOf: (asked: number) => number,
): (routine: Routine) => void {
  const root = makeRootSlots(kernel);
  const stretch = makeStretchSlots(kernel);
  const define = (write: (routine: Routine) => void): number => {
    const index = kernel.reserve();
    kernel.define(index, write);
    return index;
  };
  const attempt = define((routine) => writeAttempt(kernel, routine, ratesFunction));
  const inside = define((routine) => writeInside(kernel, routine, ratesFunction));
  const check = define((routine) => writeCheck(kernel, routine));
  const events = kernel.watched.length === 0 ? -1 : define((routine) => writeEvents(kernel, routine, root));
  const readings = kernel.wanted.map((wanted, index) =>
    define((routine) => {
      const slots = kernel.asked[index];
      const cursors = cursorsOf(index);
      if (wanted.kind === 'samples') writeSamples(kernel, routine, wanted, slots, cursors);
      else writeCrossings(kernel, routine, wanted, slots, stretch, root, cursors);
    }),
  );
  const commit = define((routine) => writeCommit(kernel, routine, ratesFunction));
  const { graph: g } = kernel;
  const isTaken = kernel.isSet(kernel.accepted);
  const landed = g.and(isTaken, g.less(g.constant(0), kernel.load(kernel.landing)));
  const arrival = kernel.watched.some(({ landing }) => landing)
    ? define((routine) => writeArrival(kernel, routine, landed))
    : -1;
  if (kernel.watched.length > 0) {
    return (routine) => {
      routine.call(attempt);
      routine.whereAny(isTaken, () => {
        routine.call(inside);
        routine.call(check);
        const crosses = anyCrosses(kernel);
        if (crosses !== null) routine.whereAny(crosses, () => routine.call(events));
        if (arrival >= 0) routine.whereAny(landed, () => routine.call(arrival));
        for (const index of readings) routine.call(index);
      });
      routine.call(commit);
    };
  }
  // Nothing to watch: the motion inside a step is worked out only where a reading falls into it.
  const looks = readings.length === 0 ? -1 : define((routine) => writeLooks(kernel, routine));
  return (routine) => {
    routine.call(attempt);
    if (looks >= 0) {
      routine.whereAny(isTaken, () => {
        routine.call(check);
        routine.call(looks);
        routine.whereAny(kernel.isSet(kernel.looks), () => {
          routine.call(inside);
          for (const index of readings) routine.call(index);
        });
      });
    }
    routine.call(commit);
  };
}
