import { type Flow, hold, isOff, limitOf, setMode, slipsBackward, slipsForward, sticks } from './flow.ts';

/** Share of limit and holding value within which the two count as equal. */
const equality = 1e-12;

/** Why the modes of dry frictions could not be decided, and at which friction. */
export interface FrictionFault {
  readonly kind: 'no-influence' | 'pushes-along' | 'limit-negative' | 'undecided';
  readonly index: number;
}

/** Switches off every friction whose limit has a factor that is zero, before a motion begins. */
export function switchOffFrictions(flow: Flow): void {
  const { program, inputs } = flow;
  for (let i = 0; i < program.frictions.length; i++) {
    const { factor } = program.frictions[i];
    setMode(flow, i, factor >= 0 && inputs[factor] === 0 ? isOff : slipsForward);
  }
}

/**
 * Decides which of the frictions at rest stick, and which way the others start to slip.
 *
 * All are taken to stick; what holds more than its limit is let go, the worst first, until the rest holds.
 * One that is let go slips in the direction in which it was being pulled.
 *
 * Time and state must stand in the inputs.
 *
 * @param atRest 1 for each friction whose velocity is zero; the others keep their mode
 * @param released the friction that has just exceeded its limit and slips for certain, or −1
 * @param direction the direction in which `released` slips
 */
export function decideFrictionModes(
  flow: Flow,
  atRest: Uint8Array,
  released: number,
  direction: number,
): FrictionFault | null {
  const { modes } = flow;
  const q = modes.length;
  for (let i = 0; i < q; i++) if (atRest[i] === 1 && modes[i] !== isOff) setMode(flow, i, sticks);
  if (released >= 0) setMode(flow, released, direction);
  for (let round = 0; round <= q; round++) {
    if (flow.stickingCount === 0) break;
    const holds = hold(flow);
    const fault = findFault(flow, holds);
    if (fault !== null) return fault;
    const worst = findMostExceeded(flow);
    if (worst < 0) break;
    const held = flow.inputs[flow.program.inputs.holdings + worst];
    setMode(flow, worst, held > 0 ? slipsForward : slipsBackward);
  }
  return null;
}

/**
 * What is wrong with a sticking friction, as last computed by `hold`.
 *
 * @param holds what `hold` returned
 */
export function findFault(flow: Flow, holds: boolean): FrictionFault | null {
  const q = flow.modes.length;
  for (let i = 0; i < q; i++) {
    if (flow.modes[i] !== sticks) continue;
    const influence = flow.friction[q + i * q + i];
    if (influence === 0) return { kind: 'no-influence', index: i };
    if (influence > 0) return { kind: 'pushes-along', index: i };
    if (limitOf(flow, i) < 0) return { kind: 'limit-negative', index: i };
    if (!holds || Number.isNaN(limitOf(flow, i))) return { kind: 'undecided', index: i };
  }
  return null;
}

function findMostExceeded(flow: Flow): number {
  const { modes, inputs } = flow;
  const { holdings } = flow.program.inputs;
  let worst = -1;
  let largest = equality;
  for (let i = 0; i < modes.length; i++) {
    if (modes[i] !== sticks) continue;
    const limit = limitOf(flow, i);
    const held = Math.abs(inputs[holdings + i]);
    const excess = held === 0 ? 0 : (held - limit) / (held + limit);
    if (excess > largest) {
      largest = excess;
      worst = i;
    }
  }
  return worst;
}
