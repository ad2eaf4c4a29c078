import type { Tree } from '../expression/index.ts';
import { type FunctionType, pageSize, type Slot, writeModule } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel } from './kernel.ts';
import { writeRates } from './write-attempt.ts';
import type { Assignment } from './write-block.ts';
import { addressOf, slotBase } from './write-block.ts';
import { writeStart } from './write-start.ts';
import { callStep } from './write-step.ts';

/** Where things stand in the memory of a module: addresses of the first lane; lanes follow at 8 bytes each. */
export interface KernelLayout {
  readonly row: readonly number[];
  readonly byHost: readonly { readonly address: number; readonly tree: Tree }[];
  readonly status: number;
  readonly stop: number;
  readonly endS: number;
  readonly states: readonly number[];
  readonly failedAt: readonly number[];
  readonly failedState: readonly (readonly number[])[];
  readonly series: readonly {
    /** One 32-bit address a lane: where the next reading goes. */
    readonly cursors: number;
    readonly count: number;
    /** Where the first lane's readings begin, and bytes from lane to lane. */
    readonly begin: number;
    readonly stride: number;
  }[];
  readonly pages: number;
}

/** The one function of an engine's module that the host calls. */
export const runName = 'run';
const nothing: FunctionType = { takes: [], gives: [] };
/** Bytes of cursors for one thing asked. */
const cursorSize = 16;
/** As many as the room before the slots holds. */
export const mostAsked = slotBase / cursorSize;

/** Writes the module of an engine. */
export function buildKernel(kernel: Kernel): {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly layout: KernelLayout;
} {
  const { settings, wanted: asked } = kernel;
  const prepare = kernel.reserve();
  const rates = kernel.reserve();
  const start = kernel.reserve();
  const run = kernel.reserve();
  kernel.define(rates, (routine) => writeRates(kernel, routine));
  const step = callStep(kernel, rates, (index) => cursorSize * index);
  kernel.define(start, (routine) => writeStart(kernel, routine, prepare, rates));
  kernel.define(run, (routine) => {
    const isActive = kernel.isSet(kernel.active);
    routine.call(start);
    routine.whileAny(isActive, settings.maxSteps, () => step(routine));
    routine.assign(...kernel.endDraw(isActive, drawStatus.budget));
  });
  // Last, because the other routines say what they want worked out beforehand.
  kernel.define(prepare, (routine) => {
    routine.assign(...kernel.lowering.hoisted.map(({ slot, value }): Assignment => [slot, value]));
  });

  const address = (slot: Slot): number => addressOf(kernel.format, slot, 0);
  let end = slotBase + 8 * settings.lanes * kernel.slots.count;
  const series = asked.map(({ most }, index) => {
    const begin = end;
    const stride = 8 * (most + 1);
    end += stride * settings.lanes;
    return { cursors: cursorSize * index, count: address(kernel.asked[index].count), begin, stride };
  });
  const pages = Math.ceil(end / pageSize);
  const bodies = kernel.bodies.filter((body) => body !== undefined);
  return {
    bytes: writeModule({
      pages,
      functions: bodies.map((body, index) =>
        index === run ? { name: runName, type: nothing, body } : { type: nothing, body },
      ),
    }),
    layout: {
      row: kernel.row.map(address),
      byHost: kernel.lowering.byHost.map(({ slot, tree }) => ({ address: address(slot), tree })),
      status: address(kernel.status),
      stop: address(kernel.stop),
      endS: address(kernel.t),
      states: kernel.states.map(address),
      failedAt: kernel.failedAt.map(address),
      failedState: kernel.failedState.map((states) => states.map(address)),
      series,
      pages,
    },
  };
}
