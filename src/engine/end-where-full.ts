import type { Node } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel } from './kernel.ts';
import type { Routine } from './routine.ts';

/** More passes of a loop than any draw's readings: a bound, not a limit. */
export const mostPasses = 0x3fffffff;

/** Ends the draws that would have more readings than there is room for. */
export function endWhereFull(kernel: Kernel, routine: Routine, isFull: Node): void {
  const { graph: g } = kernel;
  routine.whereAny(isFull, () => {
    routine.assign(
      [kernel.accepted, g.select(isFull, g.constant(0), kernel.load(kernel.accepted))],
      ...kernel.endDraw(isFull, drawStatus.budget),
    );
  });
}
