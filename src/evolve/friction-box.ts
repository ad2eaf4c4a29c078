import { type Flow, holdsConstant, setMode, slipsBackward, slipsForward, sticks } from './flow.ts';

const largestSweeps = 20_000;
/** Sweeps end when no share changes by more than this. */
const settled = 1e-14;
/** A share this near to 1 is looked at as being there. */
const nearlyAll = 1 - 1e-9;
/** A residual below this share of the terms that make it up is rounding. */
const rounding = 1e-10;
/** A friction whose influence is left with less than this share, once others hold, holds nothing of its own. */
const dependence = 1e-9;

/**
 * Finds the shares of the frictions in question (all in mode `sticks`), between −1 and 1, and lets slip those that cannot
 * hold.
 *
 * Wanted is the least of a convex function on a box: each share is either such that its velocity keeps (or, with
 * `velocities`, comes to zero within `stepS`), or ±1 with the velocity growing against it. Found by sweeps through the
 * shares (projected Gauss–Seidel). `program.friction` must have been evaluated and be without fault.
 *
 * Source: J. J. Moreau 1988, in Nonsmooth Mechanics and Applications (Springer), DOI 10.1007/978-3-7091-2624-0_1;
 * M. Jean 1999, Comput. Methods Appl. Mech. Engrg. 177, 235, DOI 10.1016/S0045-7825(98)00383-1
 */
export function settleInBox(flow: Flow, velocities: Float64Array | null, stepS: number): void {
  const { modes, inputs, friction, slipsNext } = flow;
  const q = modes.length;
  const { holdings } = flow.program.inputs;
  for (let sweep = 0; sweep < largestSweeps; sweep++) {
    let change = 0;
    for (let i = 0; i < q; i++) {
      if (modes[i] !== sticks) continue;
      const before = inputs[holdings + i];
      const wanted = before - residualOf(flow, i, velocities, stepS) / friction[q + i * q + i];
      const share = Math.min(1, Math.max(-1, wanted));
      inputs[holdings + i] = share;
      change = Math.max(change, Math.abs(share - before));
    }
    if (change <= settled || flow.stickingCount === 1) break;
  }
  for (let i = 0; i < q; i++) {
    const share = inputs[holdings + i];
    if (modes[i] !== sticks || Math.abs(share) < nearlyAll) continue;
    const residual = residualOf(flow, i, velocities, stepS);
    if (residual * share <= rounding * sizeOf(flow, i, velocities, stepS)) continue;
    slipsNext[i] = share > 0 ? slipsForward : slipsBackward;
  }
  for (let i = 0; i < q; i++) {
    if (slipsNext[i] !== 0) setMode(flow, i, slipsNext[i]);
    slipsNext[i] = 0;
  }
  if (flow.stickingCount > 1) fixDependent(flow);
}

/** The rate of a velocity, and what of the velocity is to go within the step, under the present shares. */
function residualOf(flow: Flow, i: number, velocities: Float64Array | null, stepS: number): number {
  const { modes, friction, inputs } = flow;
  const q = modes.length;
  const { holdings } = flow.program.inputs;
  let sum = friction[i] + (velocities === null ? 0 : velocities[i] / stepS);
  for (let k = 0; k < q; k++) {
    if (modes[k] === sticks || modes[k] === holdsConstant)
      sum += friction[q + i * q + k] * inputs[holdings + k];
  }
  return sum;
}

function sizeOf(flow: Flow, i: number, velocities: Float64Array | null, stepS: number): number {
  const { modes, friction } = flow;
  const q = modes.length;
  let sum = Math.abs(friction[i]) + (velocities === null ? 0 : Math.abs(velocities[i] / stepS));
  for (let k = 0; k < q; k++) if (modes[k] === sticks) sum += Math.abs(friction[q + i * q + k]);
  return sum;
}

/**
 * Lets those sticking frictions hold a constant share whose velocity is zero already because others stick: so that the
 * rest can be solved for. What several can share in many ways they share as evenly as their limits allow.
 */
function fixDependent(flow: Flow): void {
  const { modes, chosen, pivots: isIndependent, inputs } = flow;
  const { holdings } = flow.program.inputs;
  let count = 0;
  for (let i = 0; i < modes.length; i++) if (modes[i] === sticks) chosen[count++] = i;
  if (eliminate(flow, count) === count) return;
  for (let r = 0; r < count; r++) {
    if (isIndependent[r] === 1) continue;
    // The column of a dependent friction says what the others give up for each part of it.
    const way = (k: number): number =>
      k === r ? 1 : isIndependent[k] === 1 ? -flow.system[k * count + r] : 0;
    let along = 0;
    let square = 0;
    for (let k = 0; k < count; k++) {
      along += way(k) * inputs[holdings + chosen[k]];
      square += way(k) ** 2;
    }
    let length = -along / square;
    for (let k = 0; k < count; k++) {
      const share = inputs[holdings + chosen[k]];
      const room = (Math.sign(length * way(k)) - share) / way(k);
      if (way(k) !== 0 && Math.abs(room) < Math.abs(length)) length = room;
    }
    for (let k = 0; k < count; k++) inputs[holdings + chosen[k]] += length * way(k);
    setMode(flow, chosen[r], holdsConstant);
  }
}

/**
 * Reduces the influences among the chosen frictions to the unit matrix where they are independent, the largest first.
 *
 * @returns how many are independent; `flow.pivots` marks them
 */
function eliminate(flow: Flow, count: number): number {
  const { friction, system, chosen, pivots: isIndependent } = flow;
  const q = flow.modes.length;
  for (let r = 0; r < count; r++) {
    isIndependent[r] = 0;
    for (let k = 0; k < count; k++) system[r * count + k] = friction[q + chosen[r] * q + chosen[k]];
  }
  for (let found = 0; found < count; found++) {
    let best = -1;
    let largest = dependence;
    for (let r = 0; r < count; r++) {
      const share =
        isIndependent[r] === 1 ? 0 : system[r * count + r] / friction[q + chosen[r] * q + chosen[r]];
      if (share > largest) {
        largest = share;
        best = r;
      }
    }
    if (best < 0) return found;
    isIndependent[best] = 1;
    const reciprocal = 1 / system[best * count + best];
    for (let k = 0; k < count; k++) system[best * count + k] *= reciprocal;
    for (let r = 0; r < count; r++) {
      if (r === best) continue;
      const factor = system[r * count + best];
      for (let k = 0; k < count; k++) system[r * count + k] -= factor * system[best * count + k];
    }
  }
  return count;
}
