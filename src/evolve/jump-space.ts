import type { Watcher } from './crossing.ts';

/** Work space to make jumps, made once. */
export interface Jumps {
  /** Whether the condition of each jump was true when it was noted last. */
  readonly noted: Uint8Array;
  readonly due: Uint8Array;
  /** For each watched function that stands at its zero: how far beside it still counts as zero. */
  readonly ties: Float64Array;
  readonly oldValues: Float64Array;
  readonly oldSlopes: Float64Array;
  readonly values: Float64Array;
}

export function createJumps({ flow: { program }, count }: Watcher): Jumps {
  const numbers = (): Float64Array => new Float64Array(count);
  return {
    noted: new Uint8Array(program.jumps.length),
    due: new Uint8Array(program.jumps.length),
    ties: numbers(),
    oldValues: numbers(),
    oldSlopes: numbers(),
    values: new Float64Array(program.stateNames.length),
  };
}
