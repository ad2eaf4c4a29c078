import type { Node } from '../wasm/index.ts';
import type { Asked, PerDraw } from './asked.ts';
import { endWhereFull, mostPasses } from './end-where-full.ts';
import { fivePointGauss } from './five-point-gauss.ts';
import type { AskedSlots, Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';

type Samples = Asked & { readonly kind: 'samples' };

/** A sample that rounding puts a hair after the end is meant to be at the end. */
export const grace = 1e-9;

/** The looks that a mean takes: those of the rule, and one at its end, so that a mean cut off by the end is not taken. */
const meanLooks: readonly (readonly [share: number, weight: number])[] = [
  ...fivePointGauss.map(([place, weight]) => [(1 + place) / 2, weight / 2] as const),
  [1, 0],
];

/** When the signal is looked at next for a sample. */
export function nextLook(kernel: Kernel, wanted: Samples, slots: AskedSlots): Node {
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
  wanted: Samples,
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
  wanted: Samples & { readonly over: PerDraw },
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
