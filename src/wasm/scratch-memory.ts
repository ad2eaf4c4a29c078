import { type ModuleMemory, makeMemory, pageSize } from './web-assembly.ts';

/** A memory for numbers that are put in just before a call and taken out just after. */
export interface ScratchMemory {
  readonly memory: ModuleMemory;
  readonly numbers: Float64Array;
  readonly pages: number;
}

/** 128 Ki numbers. */
const sharedPages = 16;

let shared: ScratchMemory | undefined;

/**
 * A memory for `count` numbers. All who want no more than is usual get the same one: browsers have addresses for
 * some dozens of memories only. So what is in it is another's from the next call on.
 */
export function scratchMemory(count: number): ScratchMemory {
  const pages = Math.ceil((8 * count) / pageSize);
  if (pages > sharedPages) return makeScratch(pages);
  shared ??= makeScratch(sharedPages);
  return shared;
}

function makeScratch(pages: number): ScratchMemory {
  const memory = makeMemory(pages);
  return { memory, numbers: new Float64Array(memory.buffer), pages };
}
