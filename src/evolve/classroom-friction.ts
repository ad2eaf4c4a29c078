import type { Watcher } from './crossing.ts';
import {
  holdAgainst,
  holdsConstant,
  isOff,
  limitOf,
  setMode,
  slipsBackward,
  slipsForward,
  sticks,
} from './flow.ts';
import { type FrictionFault, findFault } from './friction-modes.ts';

/**
 * Decides how every dry friction acts during one step of fixed length.
 *
 * Each is asked for the value that would bring its velocity to zero by the end of the step; where that is within its
 * limit it holds that value, elsewhere it slips. So a body at rest stays at rest, and friction never throws it back.
 *
 * Time and state must stand in the inputs, and `watcher.outputs` hold what `measure` found there.
 *
 * Source: J. J. Moreau 1988, in Nonsmooth Mechanics and Applications (Springer), DOI 10.1007/978-3-7091-2624-0_1,
 * taken to one step of an explicit method
 */
export function decideClassroomFrictions(
  watcher: Watcher,
  velocities: Float64Array,
  h: number,
): FrictionFault | null {
  const { flow, outputs } = watcher;
  const { modes, inputs, program } = flow;
  const m = program.switches.length;
  const q = modes.length;
  const { holdings } = program.inputs;
  for (let i = 0; i < q; i++) {
    velocities[i] = outputs[2 * m + i];
    if (modes[i] !== isOff) setMode(flow, i, sticks);
  }
  while (flow.stickingCount > 0) {
    const holds = holdAgainst(flow, velocities, h);
    const fault = findFault(flow, holds);
    if (fault !== null) return fault;
    let worst = -1;
    let largest = 1;
    for (let i = 0; i < q; i++) {
      if (modes[i] !== sticks) continue;
      const held = Math.abs(inputs[holdings + i]);
      const excess = held === 0 ? 0 : held / limitOf(flow, i);
      if (excess > largest) {
        largest = excess;
        worst = i;
      }
    }
    if (worst < 0) break;
    setMode(flow, worst, inputs[holdings + worst] > 0 ? slipsForward : slipsBackward);
  }
  for (let i = 0; i < q; i++) if (modes[i] === sticks) setMode(flow, i, holdsConstant);
  return null;
}
