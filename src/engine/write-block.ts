import {
  type BlockForm,
  type ByteWriter,
  code,
  type LocalPool,
  type Node,
  nodesBelow,
  type OpenBlock,
  type RegisterLanes,
  type Slot,
  writeAccess,
  writeOperations,
} from '../wasm/index.ts';

/** A value to be put into a slot. */
export type Assignment = readonly [slot: Slot, value: Node];

/** Draws that are worked on side by side. */
export type Lanes = 1 | 2 | 4;

/** How lanes lie in registers and in memory. */
export interface LaneFormat {
  readonly lanes: Lanes;
  /** Registers that hold one value on all lanes. */
  readonly registers: number;
  readonly registerLanes: RegisterLanes;
}

/** Bytes of memory before the first slot: room for the cursors, one 32-bit address a lane. */
export const slotBase = 4096;

export function laneFormat(lanes: Lanes): LaneFormat {
  return { lanes, registers: lanes === 4 ? 2 : 1, registerLanes: lanes === 1 ? 1 : 2 };
}

/** Address of a slot's first lane in a register. */
export function addressOf(format: LaneFormat, slot: Slot, register: number): number {
  return slotBase + 8 * (slot.index * format.lanes + register * format.registerLanes);
}

/**
 * Writes straight-line code: works out values, puts some into slots, keeps others in local variables.
 *
 * All slots are read before any that is also read is written.
 *
 * @returns the locals of each kept node, one a register; the caller gives them back to the pool
 */
export function writeBlock(
  out: ByteWriter,
  pool: LocalPool,
  format: LaneFormat,
  assignments: readonly Assignment[],
  kept: readonly Node[],
): readonly (readonly number[])[] {
  const wanted = [...assignments.map(([, value]) => value), ...kept];
  const read = new Set(nodesBelow(wanted).map(({ slot }) => slot?.index));
  const early = new Map<Node, Slot[]>();
  const late: Assignment[] = [];
  for (const assignment of assignments) {
    const [slot, value] = assignment;
    if (read.has(slot.index)) late.push(assignment);
    else early.set(value, [...(early.get(value) ?? []), slot]);
  }
  const store = (slot: Slot, value: Node, block: OpenBlock): void => {
    for (let register = 0; register < format.registers; register++) {
      out.byte(code.i32Const);
      out.signed(0);
      block.push(value, register);
      writeAccess(out, 'store', addressOf(format, slot, register), format.registerLanes);
    }
    block.consume(value);
  };
  const block = writeOperations(out, pool, slotsForm(out, format), {
    wanted,
    kept: new Set([...kept, ...late.map(([, value]) => value)]),
    whenKnown: (node, open) => {
      for (const slot of early.get(node) ?? []) store(slot, node, open);
    },
  });
  for (const [slot, value] of late) store(slot, value, block);
  return kept.map((node) => block.localsOf(node));
}

/** What is not worked out in a block stands in slots. */
function slotsForm(out: ByteWriter, format: LaneFormat): BlockForm {
  return {
    ...format,
    isLeaf: ({ slot }) => slot !== null,
    isCheap: () => false,
    pushLeaf({ slot }, register) {
      if (slot === null) throw new Error('Only slots are had from outside a block.');
      out.byte(code.i32Const);
      out.signed(0);
      writeAccess(out, 'load', addressOf(format, slot, register), format.registerLanes);
    },
    writeCall() {
      throw new Error('On lanes, nothing is called.');
    },
  };
}
