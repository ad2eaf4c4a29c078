import {
  type Flow,
  hold,
  holdsConstant,
  isOff,
  setMode,
  slipsBackward,
  slipsForward,
  sticks,
} from './flow.ts';
import { settleInBox } from './friction-box.ts';

/** Why the modes of dry frictions could not be decided: at which friction, and at which of its limits. */
export interface FrictionFault {
  readonly kind: 'no-influence' | 'pushes-along' | 'limit-negative' | 'undecided';
  readonly index: number;
  readonly limit: number;
}

/** Switches off every friction whose limit has a factor that is zero, before a motion begins. */
export function switchOffFrictions(flow: Flow): void {
  const { program, inputs } = flow;
  for (let i = 0; i < program.frictions.length; i++) {
    const { factor } = program.frictions[i];
    setMode(flow, i, factor >= 0 && inputs[factor] === 0 ? isOff : slipsForward);
  }
}

/** Whether the velocity of a friction is held at zero, by itself or because others stick. */
export function isHeld(mode: number): boolean {
  return mode === sticks || mode === holdsConstant;
}

/**
 * Decides which of the frictions at rest stick, and which way the others start to slip.
 *
 * Time and state must stand in the inputs.
 *
 * @param atRest 1 for each friction whose velocity is zero; the others keep their mode
 */
export function decideFrictionModes(flow: Flow, atRest: Uint8Array): FrictionFault | null {
  const { modes, program, inputs } = flow;
  if (program.friction === null) return null;
  for (let i = 0; i < modes.length; i++) if (atRest[i] === 1 && modes[i] !== isOff) setMode(flow, i, sticks);
  if (flow.stickingCount === 0) return null;
  program.friction(inputs, flow.friction);
  const fault = findFault(flow);
  if (fault !== null) return fault;
  if (flow.stickingCount === 0) return null;
  settleInBox(flow, null, 1);
  return flow.stickingCount === 0 || hold(flow)
    ? null
    : { kind: 'undecided', index: modes.indexOf(sticks), limit: 0 };
}

/**
 * What is wrong with a sticking friction; `program.friction` must have been evaluated.
 *
 * One whose limits are all zero at this moment holds nothing, and is let slip the way it is pulled.
 */
export function findFault(flow: Flow): FrictionFault | null {
  const { modes, friction } = flow;
  const q = modes.length;
  let at = q + q * q;
  for (let i = 0; i < q; i++) {
    const count = flow.program.frictions[i].limits.length;
    const first = at;
    at += count;
    if (modes[i] !== sticks) continue;
    let largest = 0;
    for (let k = 0; k < count; k++) {
      const limit = friction[first + k];
      if (limit < 0) return { kind: 'limit-negative', index: i, limit: k };
      if (!Number.isFinite(limit)) return { kind: 'undecided', index: i, limit: k };
      if (limit > largest) largest = limit;
    }
    const influence = friction[q + i * q + i];
    if (!Number.isFinite(influence + friction[i])) return { kind: 'undecided', index: i, limit: 0 };
    if (largest === 0) setMode(flow, i, friction[i] < 0 ? slipsBackward : slipsForward);
    else if (influence === 0) return { kind: 'no-influence', index: i, limit: 0 };
    else if (influence > 0) return { kind: 'pushes-along', index: i, limit: 0 };
  }
  return null;
}
