import {
  type BlockForm,
  type ByteWriter,
  code,
  type LocalPool,
  type Node,
  nodesBelow,
  type OpenBlock,
  type RegisterLanes,
  type RowPlace,
  type Slot,
  writeAccess,
  writeOperations,
} from '../wasm/index.ts';

/** A value to be put into a slot, or into the row at hand of a column. */
export type Assignment = readonly [place: Slot | RowPlace, value: Node];

/** Draws that are worked on side by side. */
export type Lanes = 1 | 2 | 4;

/** How lanes lie in registers and in memory. */
export interface LaneFormat {
  readonly lanes: Lanes;
  /** Registers that hold one value on all lanes. */
  readonly registers: number;
  readonly registerLanes: RegisterLanes;
  /** Address of the first row of each column; the lanes of a row stand side by side. */
  readonly columns: readonly number[];
  /** Address of the first slot. */
  readonly slotBase: number;
}

/** Bytes of memory before the first column: room for the cursors, one 32-bit address a lane. */
export const columnBase = 4096;
/** Rows of room before and after a column, for looks at neighbours of its first and last row. */
const spareRows = 8;

/** @param rows most rows of each column */
export function laneFormat(lanes: Lanes, rows: readonly number[]): LaneFormat {
  let end = columnBase;
  const columns = rows.map((count) => {
    const begin = end + 8 * lanes * spareRows;
    end = begin + 8 * lanes * (count + spareRows);
    return begin;
  });
  return {
    lanes,
    registers: lanes === 4 ? 2 : 1,
    registerLanes: lanes === 1 ? 1 : 2,
    columns,
    slotBase: end,
  };
}

/** Address of a place's first lane in a register; of a row of a column, counted from the row at hand. */
export function addressOf(format: LaneFormat, place: Slot | RowPlace, register: number): number {
  const inRegister = 8 * register * format.registerLanes;
  if ('column' in place) {
    return format.columns[place.column] + 8 * place.shift * format.lanes + inRegister;
  }
  return format.slotBase + 8 * place.index * format.lanes + inRegister;
}

/**
 * Writes straight-line code: works out values, puts some into slots, keeps others in local variables.
 *
 * All slots are read before any that is also read is written.
 *
 * @param rowPointer local that holds the bytes from the first row of a column to the row at hand; null outside of loops
 * @returns the locals of each kept node, one a register; the caller gives them back to the pool
 */
export function writeBlock(
  out: ByteWriter,
  pool: LocalPool,
  format: LaneFormat,
  assignments: readonly Assignment[],
  kept: readonly Node[],
  rowPointer: number | null,
): readonly (readonly number[])[] {
  const wanted = [...assignments.map(([, value]) => value), ...kept];
  const read = new Set(nodesBelow(wanted).map(({ slot }) => slot?.index));
  const early = new Map<Node, (Slot | RowPlace)[]>();
  const late: Assignment[] = [];
  for (const assignment of assignments) {
    const [place, value] = assignment;
    if ('index' in place && read.has(place.index)) late.push(assignment);
    else early.set(value, [...(early.get(value) ?? []), place]);
  }
  const store = (place: Slot | RowPlace, value: Node, block: OpenBlock): void => {
    for (let register = 0; register < format.registers; register++) {
      pushBase(out, place, rowPointer);
      block.push(value, register);
      writeAccess(out, 'store', addressOf(format, place, register), format.registerLanes);
    }
    block.consume(value);
  };
  const block = writeOperations(out, pool, placesForm(out, format, rowPointer), {
    wanted,
    kept: new Set([...kept, ...late.map(([, value]) => value)]),
    whenKnown: (node, open) => {
      for (const place of early.get(node) ?? []) store(place, node, open);
    },
  });
  for (const [place, value] of late) store(place, value, block);
  return kept.map((node) => block.localsOf(node));
}

/** Leaves the address that a place's own is counted from on the stack. */
function pushBase(out: ByteWriter, place: Slot | RowPlace, rowPointer: number | null): void {
  if ('index' in place) {
    out.byte(code.i32Const);
    out.signed(0);
    return;
  }
  if (rowPointer === null) throw new Error('A row is looked at outside of a loop over rows.');
  out.byte(code.localGet);
  out.unsigned(rowPointer);
}

/** What is not worked out in a block stands in slots and in columns. */
function placesForm(out: ByteWriter, format: LaneFormat, rowPointer: number | null): BlockForm {
  return {
    ...format,
    isLeaf: ({ slot, row }) => slot !== null || row !== null,
    isCheap: () => false,
    pushLeaf({ slot, row }, register) {
      const place = slot ?? row;
      if (place === null) throw new Error('Only slots and columns are had from outside a block.');
      pushBase(out, place, rowPointer);
      writeAccess(out, 'load', addressOf(format, place, register), format.registerLanes);
    },
    writeCall() {
      throw new Error('On lanes, nothing is called.');
    },
  };
}
