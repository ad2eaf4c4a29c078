import { placeOf, rowOf } from '../evolve/index.ts';
import { type Node, nodesBelow, type Slot } from '../wasm/index.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import type { Assignment } from './write-block.ts';

/**
 * Rates with more operations than this are called, not written into each stage, by the number of registers: a step
 * that does not fit into the processor's store of decoded instructions is slower than the calls (measured).
 */
const mostInStage: Readonly<Record<number, number>> = { 1: 400, 2: 160 };

const safety = 0.9;
const leastFactor = 0.2;
const largestFactor = 10;

/** The routine that works out the rates at `argumentT` and `argumentStates` into `resultRates`. */
export function writeRates(kernel: Kernel, routine: Routine): void {
  const moment = kernel.at(
    kernel.load(kernel.argumentT),
    kernel.argumentStates.map((slot) => kernel.load(slot)),
  );
  const { rates } = moment;
  routine.assign(...kernel.resultRates.map((slot, i): Assignment => [slot, rates[i]]));
}

/** Writes a call of the routine of rates at a time and state. */
export function callRates(
  kernel: Kernel,
  routine: Routine,
  ratesFunction: number,
  t: Node,
  states: readonly Node[],
): void {
  routine.assign(
    [kernel.argumentT, t],
    ...kernel.argumentStates.map((slot, i): Assignment => [slot, states[i]]),
  );
  routine.call(ratesFunction);
}

/** The stages of a step as they are worked out one after the other. */
class Stages {
  readonly y: readonly Node[];
  readonly h: Node;
  private readonly rates = new Map<number, readonly Node[]>();
  private readonly kernel: Kernel;
  private readonly routine: Routine;
  private readonly ratesFunction: number;
  private readonly isInline: boolean;

  /** @param known stages whose rates stand in their slots; 1 and 13 stand at the ends of the step */
  constructor(kernel: Kernel, routine: Routine, ratesFunction: number, known: readonly number[]) {
    this.kernel = kernel;
    this.routine = routine;
    this.ratesFunction = ratesFunction;
    this.y = kernel.states.map((slot) => kernel.load(slot));
    this.h = kernel.load(kernel.tried);
    this.isInline = countOperations(kernel) <= mostInStage[kernel.format.registers];
    for (const stage of known)
      this.rates.set(
        stage,
        slotsOf(kernel, stage).map((slot) => kernel.load(slot)),
      );
  }

  of(stage: number, i: number): Node {
    const found = this.rates.get(stage);
    if (found === undefined) throw new Error(`Stage ${stage} is not known yet.`);
    return found[i];
  }

  /** Sum of the rates of state i, weighted by a row of the table. */
  combine(prefix: string, i: number): Node {
    const { graph: g } = this.kernel;
    return rowOf(prefix)
      .map(([stage, coefficient]) => g.multiply(g.constant(coefficient), this.of(stage, i)))
      .reduce((sum, term) => g.add(sum, term));
  }

  /** States reached from the start of the step by a row of the table. */
  advance(prefix: string): readonly Node[] {
    const { graph: g } = this.kernel;
    return this.y.map((start, i) => g.add(start, g.multiply(this.h, this.combine(prefix, i))));
  }

  evaluate(stage: number, states: readonly Node[] = this.advance(`a${stage}_`)): void {
    const { kernel, routine } = this;
    const { graph: g } = kernel;
    const t = kernel.load(kernel.t);
    const place = placeOf(stage);
    const moment = g.add(t, place === 1 ? this.h : g.multiply(g.constant(place), this.h));
    if (this.isInline) {
      this.rates.set(stage, kernel.at(moment, states).rates);
      return;
    }
    callRates(kernel, routine, this.ratesFunction, moment, states);
    const slots = slotsOf(kernel, stage);
    routine.assign(...slots.map((slot, i): Assignment => [slot, kernel.load(kernel.resultRates[i])]));
    this.rates.set(
      stage,
      slots.map((slot) => kernel.load(slot)),
    );
  }

  /** Keeps rates that another routine wants to know, unless they stand in their slots already. */
  keep(stages: readonly number[]): readonly Assignment[] {
    if (this.isInline) {
      return stages.flatMap((stage) =>
        slotsOf(this.kernel, stage).map((slot, i): Assignment => [slot, this.of(stage, i)]),
      );
    }
    return [];
  }
}

function slotsOf(kernel: Kernel, stage: number): readonly Slot[] {
  if (stage === 1) return kernel.rates;
  return stage === 13 ? kernel.endRates : kernel.stages[stage];
}

/**
 * Tries one step of the explicit pair of order 8 on all lanes: its end, its error, the next length.
 *
 * Step control is that of the evolution, which see.
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5
 */
export function writeAttempt(kernel: Kernel, routine: Routine, ratesFunction: number): void {
  const { graph: g } = kernel;
  const t = kernel.load(kernel.t);
  const zero = g.constant(0);
  const one = g.constant(1);
  const isLanding = g.less(zero, kernel.load(kernel.landing));
  const wanted = kernel.load(kernel.h);
  const endS = kernel.load(kernel.endS);
  const passesEnd = g.lessOrEqual(endS, g.add(t, g.multiply(g.constant(1.001), wanted)));
  const reachesNow = g.and(passesEnd, g.not(isLanding));
  const length = g.select(reachesNow, g.subtract(endS, t), wanted);
  routine.assign(
    [kernel.tried, length],
    [kernel.reaches, g.select(reachesNow, one, zero)],
    [kernel.limit, one],
    [kernel.stopped, zero],
  );
  const stages = new Stages(kernel, routine, ratesFunction, [1]);
  for (let stage = 2; stage <= 12; stage++) stages.evaluate(stage);
  const end = stages.advance('b');
  stages.evaluate(13, end);
  const { error, finite } = writeError(kernel, stages, end);

  const isGood = g.and(g.lessOrEqual(error, one), finite);
  const isActive = kernel.isSet(kernel.active);
  const growth = g.divide(g.constant(safety), g.sqrt(g.sqrt(g.sqrt(error))));
  const bounded = g.max(
    g.constant(leastFactor),
    g.min(growth, g.select(isGood, g.constant(largestFactor), one)),
  );
  const factor = g.select(g.and(finite, g.equal(error, error)), bounded, g.constant(leastFactor));
  routine.assign(
    [kernel.accepted, g.select(g.and(isGood, isActive), one, zero)],
    [kernel.proposed, g.multiply(stages.h, factor)],
    ...kernel.endStates.map((slot, i): Assignment => [slot, end[i]]),
    ...stages.keep([6, 7, 8, 9, 10, 11, 12, 13]),
  );
}

/**
 * Works out the motion inside the step last tried.
 *
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.6
 */
export function writeInside(kernel: Kernel, routine: Routine, ratesFunction: number): void {
  const { graph: g } = kernel;
  const stages = new Stages(kernel, routine, ratesFunction, [1, 6, 7, 8, 9, 10, 11, 12, 13]);
  for (const stage of [14, 15, 16]) stages.evaluate(stage);
  const { h, y } = stages;
  routine.assign(
    ...y.flatMap((start, i): readonly Assignment[] => {
      const change = g.subtract(kernel.load(kernel.endStates[i]), start);
      const first = stages.of(1, i);
      const last = stages.of(13, i);
      const terms = [
        start,
        change,
        g.subtract(g.multiply(h, first), change),
        g.subtract(g.add(change, change), g.multiply(h, g.add(last, first))),
        ...['d4_', 'd5_', 'd6_', 'd7_'].map((prefix) => g.multiply(h, stages.combine(prefix, i))),
      ];
      return terms.map((term, c): Assignment => [kernel.piece[i][c], term]);
    }),
  );
}

/** Error over what is allowed, by both estimates; and whether the rates at the end are finite. */
function writeError(
  kernel: Kernel,
  stages: Stages,
  end: readonly Node[],
): { readonly error: Node; readonly finite: Node } {
  const { y, h } = stages;
  const { graph: g, settings } = kernel;
  const zero = g.constant(0);
  let fifth = zero;
  let third = zero;
  let vanishing = zero;
  for (const [i, start] of y.entries()) {
    const size = g.max(g.abs(start), g.abs(end[i]));
    const allowed = g.add(
      kernel.load(kernel.absolute[i]),
      g.multiply(g.constant(settings.relativeTolerance), size),
    );
    const share = g.divide(g.constant(1), allowed);
    const byFifth = g.multiply(stages.combine('e5_', i), share);
    const byThird = g.multiply(stages.combine('e3_', i), share);
    fifth = g.add(fifth, g.multiply(byFifth, byFifth));
    third = g.add(third, g.multiply(byThird, byThird));
    vanishing = g.add(vanishing, g.multiply(zero, stages.of(13, i)));
  }
  const weighted = g.multiply(g.add(fifth, g.multiply(g.constant(0.01), third)), g.constant(y.length));
  const error = g.divide(g.multiply(g.abs(h), fifth), g.sqrt(weighted));
  const isZero = g.and(g.equal(fifth, zero), g.equal(third, zero));
  return { error: g.select(isZero, zero, error), finite: g.equal(vanishing, zero) };
}

/** Operations of one evaluation of the rates. */
function countOperations(kernel: Kernel): number {
  const moment = kernel.at(
    kernel.load(kernel.argumentT),
    kernel.argumentStates.map((slot) => kernel.load(slot)),
  );
  return nodesBelow(moment.rates).length;
}
