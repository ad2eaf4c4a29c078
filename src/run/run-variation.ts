import { drawEstimates, prepareDraws, type RandomSource } from '../inference/index.ts';
import type { BaseQuantity, Lab } from '../lab/index.ts';

/**
 * How runs differ from one another: evenly placed examples of what a single run may have, each equally likely.
 *
 * A node is the difference of all base quantities from their values, SI; 0 for those that all runs have in common.
 */
export interface RunVariation {
  /** A single node of zeros where nothing differs from run to run. */
  readonly nodes: readonly Float64Array[];
}

/**
 * Examples that an average over runs is taken from: their own error in the mean of a saw-tooth, the worst that
 * sampling makes of a smooth signal, is at most a sixty-fourth of its height.
 */
const NODES = 32;

/** The quantities whose value differs from run to run and can move a result. */
export function quantitiesOfRuns(lab: Lab): readonly BaseQuantity[] {
  return lab.quantities.base.filter(({ eachRun, index }) => eachRun !== null && lab.influential.has(index));
}

/** All runs alike: for a lab without such quantities, and where their mean is all that counts. */
export function alikeRuns(lab: Lab): RunVariation {
  return { nodes: [new Float64Array(lab.quantities.base.length)] };
}

/**
 * The examples for a lab.
 *
 * With several such quantities each has its own even places, in an order of its own (a rank-1 lattice); for every
 * node there is one on the other side, so that what is in step with a quantity averages out exactly. The places are
 * stretched a little so that their standard deviation is the stated one.
 *
 * Source of the lattice: Korobov, in Sloan and Joe, Lattice Methods for Multiple Integration, Oxford 1994
 */
export function varyRuns(lab: Lab): RunVariation {
  const quantities = quantitiesOfRuns(lab);
  if (quantities.length === 0) return alikeRuns(lab);
  const estimates = quantities.flatMap(({ eachRun }) => eachRun ?? []);
  const prepared = prepareDraws(estimates);
  if (!prepared.ok) throw new TypeError('draws without correlations are always possible');
  const size = estimates.length;
  const places = new Float64Array(NODES * size);
  for (let node = 0; node < NODES; node++) {
    const row = places.subarray(node * size, (node + 1) * size);
    for (let at = 0; at < size; at++)
      row[at] = (((node + 0.5) * GENERATORS[at % GENERATORS.length]) / NODES) % 1;
    prepared.value.place(row, row);
  }
  const stretches = estimates.map(({ standardUncertainty }, at) => {
    let squares = 0;
    for (let node = 0; node < NODES; node++) squares += places[node * size + at] ** 2;
    return standardUncertainty / Math.sqrt(squares / NODES);
  });
  const nodes = Array.from({ length: NODES }, (_, node) => {
    const deviations = new Float64Array(lab.quantities.base.length);
    quantities.forEach(({ index }, at) => {
      deviations[index] = places[node * size + at] * stretches[at];
    });
    return deviations;
  });
  return { nodes };
}

/** Odd numbers share no factor with the number of nodes, so every quantity visits every place once. */
const GENERATORS = [1, 7, 11, 13, 5, 9, 15, 3];

/** Draws what a single run has: `base` with the quantities that differ from run to run moved. */
export function drawRun(lab: Lab, base: Float64Array, random: RandomSource): Float64Array {
  const own = Float64Array.from(base);
  const drawn = new Float64Array(1);
  for (const { index, eachRun } of lab.quantities.base) {
    if (eachRun === null) continue;
    // A stream for each quantity, so that adding one changes no other's draws.
    drawEstimates([eachRun], [], random.fork(index), drawn);
    own[index] += drawn[0];
  }
  return own;
}
