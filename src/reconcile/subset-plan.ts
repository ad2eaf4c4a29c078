import type { RandomSource } from '../inference/index.ts';
import { stepWeights } from './shapley.ts';

/**
 * Which subsets of k effects are run, and how the shares of the effects follow from their results.
 *
 * A share is a weighted sum of differences between two subsets that differ in one effect, so what is linear in the
 * results (a response, say) has shares in the same way.
 */
export interface SubsetPlan {
  readonly effects: number;
  /** Without any effect first, with all of them last. */
  readonly subsets: Uint32Array;
  /** One entry a step of an order: the effect that is switched on, places among `subsets` before and after, the weight. */
  readonly steps: {
    readonly effect: Uint8Array;
    readonly from: Uint32Array;
    readonly to: Uint32Array;
    readonly weight: Float64Array;
  };
  /** Null where the steps stand for all k! orders; else the orders that were drawn. */
  readonly sampled: SampledOrders | null;
}

/** Orders of switching on, in pairs of one and its reverse. */
export interface SampledOrders {
  readonly count: number;
  /** count × k effects in the order in which they are switched on. */
  readonly effects: Uint8Array;
  /** count × (k + 1) places among the subsets. */
  readonly places: Uint32Array;
}

/** All subsets of k effects, and the weights of all k! orders: shares without any error of their own. */
export function planAllOrders(effects: number): SubsetPlan {
  const count = 2 ** effects;
  const weights = stepWeights(effects);
  const steps = makeSteps(effects * (count / 2));
  let at = 0;
  for (let subset = 0; subset < count; subset++) {
    const weight = weights[countOnes(subset)];
    for (let effect = 0; effect < effects; effect++) {
      if ((subset & (1 << effect)) !== 0) continue;
      steps.effect[at] = effect;
      steps.from[at] = subset;
      steps.to[at] = subset | (1 << effect);
      steps.weight[at++] = weight;
    }
  }
  return {
    effects,
    subsets: Uint32Array.from({ length: count }, (_, subset) => subset),
    steps,
    sampled: null,
  };
}

/**
 * Orders drawn at random, each with its reverse: an effect that comes early in one comes late in the other, which
 * evens out most of what depends on the place.
 *
 * The shares of each order add up exactly, so their means do.
 *
 * @param effects k, at most 30, as a lab has
 * @param pairs   2 or more
 * Source: J. Castro, D. Gómez, J. Tejada, Computers & Operations Research 36 (2009) 1726,
 *   doi:10.1016/j.cor.2008.04.004; R. Mitchell, J. Cooper, E. Frank, G. Holmes, Journal of Machine Learning Research
 *   23 (2022) 43 (antithetic orders)
 */
export function planSampledOrders(effects: number, pairs: number, random: RandomSource): SubsetPlan {
  const count = 2 * pairs;
  const drawn = new Uint8Array(count * effects);
  for (let pair = 0; pair < pairs; pair++) {
    const order = Uint8Array.from({ length: effects }, (_, i) => i);
    for (let i = effects - 1; i > 0; i--) {
      const j = Math.floor(random.uniform() * (i + 1));
      const kept = order[i];
      order[i] = order[j];
      order[j] = kept;
    }
    drawn.set(order, 2 * pair * effects);
    drawn.set(order.reverse(), (2 * pair + 1) * effects);
  }
  const all = 2 ** effects - 1;
  const visited = new Set([0]);
  for (let order = 0; order < count; order++) {
    let subset = 0;
    for (let i = 0; i + 1 < effects; i++) {
      subset |= 1 << drawn[order * effects + i];
      visited.add(subset);
    }
  }
  visited.add(all);
  const subsets = Uint32Array.from(visited);
  const placeOf = new Map(Array.from(subsets, (subset, place) => [subset, place]));
  const places = new Uint32Array(count * (effects + 1));
  const steps = makeSteps(count * effects);
  for (let order = 0; order < count; order++) {
    let subset = 0;
    for (let i = 0; i < effects; i++) {
      const at = order * effects + i;
      const effect = drawn[at];
      const before = placeOf.get(subset) ?? 0;
      subset |= 1 << effect;
      const after = placeOf.get(subset) ?? 0;
      places[order * (effects + 1) + i + 1] = after;
      steps.effect[at] = effect;
      steps.from[at] = before;
      steps.to[at] = after;
      steps.weight[at] = 1 / count;
    }
  }
  return { effects, subsets, steps, sampled: { count, effects: drawn, places } };
}

/**
 * The shares of the effects in something of which each subset has several values.
 *
 * @param values subsets × width, in the order of the plan's subsets
 * @param shares receives width × effects
 */
export function applyPlan(
  { effects, steps }: SubsetPlan,
  values: Float64Array,
  width: number,
  shares: Float64Array,
): void {
  const { effect, from, to, weight } = steps;
  shares.fill(0, 0, width * effects);
  for (let step = 0; step < effect.length; step++) {
    const before = from[step] * width;
    const after = to[step] * width;
    for (let i = 0; i < width; i++) {
      shares[i * effects + effect[step]] += weight[step] * (values[after + i] - values[before + i]);
    }
  }
}

/**
 * Standard errors that the drawing of orders leaves in the shares: from the scatter of the pairs, which are
 * independent of one another.
 *
 * @param values subsets × outputs
 * @returns outputs × effects; zeros where all orders were taken
 */
export function orderErrors(plan: SubsetPlan, values: Float64Array, outputs: number): Float64Array {
  const { effects, sampled } = plan;
  const errors = new Float64Array(outputs * effects);
  if (sampled === null) return errors;
  const pairs = sampled.count / 2;
  const means = new Float64Array(outputs * effects);
  const squares = new Float64Array(outputs * effects);
  const ofPair = new Float64Array(outputs * effects);
  for (let pair = 0; pair < pairs; pair++) {
    ofPair.fill(0);
    for (const order of [2 * pair, 2 * pair + 1]) {
      for (let i = 0; i < effects; i++) {
        const effect = sampled.effects[order * effects + i];
        const before = sampled.places[order * (effects + 1) + i] * outputs;
        const after = sampled.places[order * (effects + 1) + i + 1] * outputs;
        for (let k = 0; k < outputs; k++)
          ofPair[k * effects + effect] += 0.5 * (values[after + k] - values[before + k]);
      }
    }
    for (let i = 0; i < ofPair.length; i++) {
      const deviation = ofPair[i] - means[i];
      means[i] += deviation / (pair + 1);
      squares[i] += deviation * (ofPair[i] - means[i]);
    }
  }
  for (let i = 0; i < errors.length; i++) errors[i] = Math.sqrt(squares[i] / (pairs - 1) / pairs);
  return errors;
}

function makeSteps(count: number) {
  return {
    effect: new Uint8Array(count),
    from: new Uint32Array(count),
    to: new Uint32Array(count),
    weight: new Float64Array(count),
  };
}

function countOnes(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count++;
  return count;
}
