import type { Watcher } from './crossing.ts';
import { holdAgainst, holdsConstant, isOff, setMode, sticks } from './flow.ts';
import { settleInBox } from './friction-box.ts';
import { type FrictionFault, findFault } from './friction-modes.ts';

/**
 * Decides how every dry friction acts during one step of fixed length.
 *
 * Each is asked for the value that would bring its velocity to zero by the end of the step; where that is within its
 * limit it holds that value, elsewhere it slips. So a body at rest stays at rest, and friction never throws it back.
 *
 * Time and state must stand in the inputs, and `watcher.outputs` hold what `measure` found there.
 */
export function decideClassroomFrictions(
  watcher: Watcher,
  velocities: Float64Array,
  h: number,
): FrictionFault | null {
  const { flow, outputs } = watcher;
  const { modes, inputs, program } = flow;
  if (program.friction === null) return null;
  const m = program.switches.length;
  for (let i = 0; i < modes.length; i++) {
    velocities[i] = outputs[2 * m + i];
    if (modes[i] !== isOff) setMode(flow, i, sticks);
  }
  if (flow.stickingCount === 0) return null;
  program.friction(inputs, flow.friction);
  const fault = findFault(flow);
  if (fault !== null) return fault;
  if (flow.stickingCount > 0) settleInBox(flow, velocities, h);
  if (flow.stickingCount > 0) holdAgainst(flow, velocities, h);
  for (let i = 0; i < modes.length; i++) if (modes[i] === sticks) setMode(flow, i, holdsConstant);
  return null;
}
