import type { Tree } from '../expression/index.ts';
import { type FunctionType, pageSize, type Slot, writeModule } from '../wasm/index.ts';
import { drawStatus } from './asked.ts';
import type { Kernel } from './kernel.ts';
import type { GivenColumn } from './row-program.ts';
import { writeRates } from './write-attempt.ts';
import type { Assignment } from './write-block.ts';
import { addressOf, columnBase } from './write-block.ts';
import { type RowResults, writeRows } from './write-rows.ts';
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
    /** Where the first lane's readings begin; the lanes of a row stand side by side. */
    readonly begin: number;
  }[];
  /** Where a row program leaves its results; null where there is none. */
  readonly reduced: number | null;
  readonly isReal: number;
  /** Where columns given beside readings begin. */
  readonly given: readonly (GivenColumn & { readonly begin: number })[];
  readonly scalars: readonly number[];
  readonly pages: number;
}

/** The one function of an engine's module that the host calls. */
export const runName = 'run';
/** The function that only takes readings through the row program, where there is one. */
export const reduceName = 'reduce';
const nothing: FunctionType = { takes: [], gives: [] };
/** Bytes of cursors for one thing asked. */
const cursorSize = 16;
/** As many as the room before the slots holds. */
export const mostAsked = columnBase / cursorSize;

/** Writes the module of an engine. */
export function buildKernel(kernel: Kernel): {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly layout: KernelLayout;
} {
  const { wanted: asked } = kernel;
  const { reduction } = kernel.rows;
  const { lanes, maxSteps } = kernel.settings;
  const prepare = kernel.reserve();
  const rates = kernel.reserve();
  const start = kernel.reserve();
  const run = kernel.reserve();
  const reduce = reduction === null ? -1 : kernel.reserve();
  const reduceOnly = reduction === null ? -1 : kernel.reserve();
  kernel.define(rates, (routine) => writeRates(kernel, routine));
  const step = callStep(kernel, rates, (index) => cursorSize * index);
  kernel.define(start, (routine) => writeStart(kernel, routine, prepare, rates));
  kernel.define(run, (routine) => {
    const isActive = kernel.isSet(kernel.active);
    routine.call(start);
    routine.whileAny(isActive, maxSteps, () => step(routine));
    routine.assign(...kernel.endDraw(isActive, drawStatus.budget));
    if (reduce >= 0) routine.call(reduce);
  });
  const results: RowResults[] = [];
  if (reduction !== null) {
    kernel.define(reduce, (routine) => {
      results.push(writeRows(kernel, routine, reduction));
    });
    kernel.define(reduceOnly, (routine) => {
      routine.call(prepare);
      routine.call(reduce);
    });
  }
  // Last, because the other routines say what they want worked out beforehand.
  kernel.define(prepare, (routine) => {
    routine.assign(...kernel.lowering.hoisted.map(({ slot, value }): Assignment => [slot, value]));
  });

  const address = (slot: Slot): number => addressOf(kernel.format, slot, 0);
  const series = asked.map((_, index) => ({
    cursors: cursorSize * index,
    count: address(kernel.asked[index].count),
    begin: kernel.format.columns[index],
  }));
  const end = kernel.format.slotBase + 8 * lanes * kernel.slots.count;
  const pages = Math.ceil(end / pageSize);
  const bodies = kernel.bodies.filter((body) => body !== undefined);
  return {
    bytes: writeModule({
      pages,
      functions: bodies.map((body, index) =>
        index === run
          ? { name: runName, type: nothing, body }
          : index === reduceOnly
            ? { name: reduceName, type: nothing, body }
            : { type: nothing, body },
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
      isReal: address(kernel.isReal),
      given: results.flatMap(({ given }) =>
        given.map(({ of, column, index }) => ({ of, column, begin: kernel.format.columns[index] })),
      ),
      reduced: results.length === 0 ? null : address(results[0].reduced),
      scalars: results.flatMap(({ scalars }) => scalars.map(address)),
      pages,
    },
  };
}
