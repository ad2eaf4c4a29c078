import { order8 } from '../evolve/index.ts';
import { type Node, nodesBelow } from './graph.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';
import type { Assignment } from './write-block.ts';

/**
 * Rates with more operations than this are called, not written into each stage, by the number of registers: a step
 * that does not fit into the processor's store of decoded instructions is slower than the calls (measured).
 */
const mostInStage: Readonly<Record<number, number>> = { 1: 400, 2: 40 };

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

/**
 * Tries one step of the explicit pair of order 8 on all lanes: its end, its error, the next length, and the
 * motion inside it.
 *
 * Step control is that of the evolution, which see.
 * Source: Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I, 2nd ed. (Springer 1993), II.5, II.6
 */
export function writeAttempt(kernel: Kernel, routine: Routine, ratesFunction: number): void {
  const { graph: g } = kernel;
  const n = kernel.states.length;
  const range = Array.from({ length: n }, (_, i) => i);
  const y = kernel.states.map((slot) => kernel.load(slot));
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
  const h = kernel.load(kernel.tried);

  const isInline = countOperations(kernel) <= mostInStage[kernel.format.registers];
  const rates = new Map<number, readonly Node[]>([[1, kernel.rates.map((slot) => kernel.load(slot))]]);
  const ratesOf = (stage: number, i: number): Node => {
    const found = rates.get(stage);
    if (found === undefined) throw new Error(`Stage ${stage} is not known yet.`);
    return found[i];
  };
  const combine = (
    coefficients: readonly (readonly [stage: number, coefficient: number])[],
    i: number,
  ): Node =>
    coefficients
      .map(([stage, coefficient]) => g.multiply(g.constant(coefficient), ratesOf(stage, i)))
      .reduce((sum, term) => g.add(sum, term));
  const advance = (prefix: string): readonly Node[] => {
    const coefficients = row(prefix);
    return range.map((i) => g.add(y[i], g.multiply(h, combine(coefficients, i))));
  };
  const evaluate = (stage: number, at: number, states: readonly Node[]): void => {
    const moment = at === 1 ? g.add(t, h) : g.add(t, g.multiply(g.constant(at), h));
    if (isInline) {
      rates.set(stage, kernel.at(moment, states).rates);
      return;
    }
    callRates(kernel, routine, ratesFunction, moment, states);
    const kept = kernel.slots.movingMany(n);
    routine.assign(...kept.map((slot, i): Assignment => [slot, kernel.load(kernel.resultRates[i])]));
    rates.set(
      stage,
      kept.map((slot) => kernel.load(slot)),
    );
  };

  for (let stage = 2; stage <= 12; stage++) evaluate(stage, placeOf(stage), advance(`a${stage}_`));
  const end = range.map((i) => g.add(y[i], g.multiply(h, combine(row('b'), i))));
  evaluate(13, 1, end);
  const { error, finite } = writeError(
    kernel,
    combine,
    y,
    end,
    range.map((i) => ratesOf(13, i)),
    h,
  );
  for (const stage of [14, 15, 16]) evaluate(stage, placeOf(stage), advance(`a${stage}_`));

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
    [kernel.proposed, g.multiply(h, factor)],
    ...range.map((i): Assignment => [kernel.endStates[i], end[i]]),
    ...range.map((i): Assignment => [kernel.endRates[i], ratesOf(13, i)]),
    ...range.flatMap((i): readonly Assignment[] => {
      const change = g.subtract(end[i], y[i]);
      const first = ratesOf(1, i);
      const last = ratesOf(13, i);
      const terms = [
        y[i],
        change,
        g.subtract(g.multiply(h, first), change),
        g.subtract(g.add(change, change), g.multiply(h, g.add(last, first))),
        ...['d4_', 'd5_', 'd6_', 'd7_'].map((prefix) => g.multiply(h, combine(row(prefix), i))),
      ];
      return terms.map((term, c): Assignment => [kernel.piece[i][c], term]);
    }),
  );
}

/** Error over what is allowed, by both estimates; and whether the rates at the end are finite. */
function writeError(
  kernel: Kernel,
  combine: (coefficients: readonly (readonly [number, number])[], i: number) => Node,
  y: readonly Node[],
  end: readonly Node[],
  endRates: readonly Node[],
  h: Node,
): { readonly error: Node; readonly finite: Node } {
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
    const byFifth = g.multiply(combine(row('e5_'), i), share);
    const byThird = g.multiply(combine(row('e3_'), i), share);
    fifth = g.add(fifth, g.multiply(byFifth, byFifth));
    third = g.add(third, g.multiply(byThird, byThird));
    vanishing = g.add(vanishing, g.multiply(zero, endRates[i]));
  }
  const weighted = g.multiply(g.add(fifth, g.multiply(g.constant(0.01), third)), g.constant(y.length));
  const error = g.divide(g.multiply(g.abs(h), fifth), g.sqrt(weighted));
  const isZero = g.and(g.equal(fifth, zero), g.equal(third, zero));
  return { error: g.select(isZero, zero, error), finite: g.equal(vanishing, zero) };
}

/** Coefficients of one row of the table: those whose key is the prefix and a stage. */
function row(prefix: string): readonly (readonly [stage: number, coefficient: number])[] {
  const found: (readonly [number, number])[] = [];
  for (const [key, coefficient] of Object.entries(order8)) {
    if (!key.startsWith(prefix)) continue;
    const stage = Number(key.slice(prefix.length));
    if (Number.isInteger(stage)) found.push([stage, coefficient]);
  }
  return found;
}

function placeOf(stage: number): number {
  if (stage === 12) return 1;
  for (const [key, place] of Object.entries(order8)) if (key === `c${stage}`) return place;
  throw new Error(`Stage ${stage} has no place.`);
}

/** Operations of one evaluation of the rates. */
function countOperations(kernel: Kernel): number {
  const moment = kernel.at(
    kernel.load(kernel.argumentT),
    kernel.argumentStates.map((slot) => kernel.load(slot)),
  );
  return nodesBelow(moment.rates).length;
}
