import {
  type ByteWriter,
  code,
  isConstant,
  type LocalPool,
  type Node,
  nodesBelow,
  type RegisterLanes,
  registerType,
  type Slot,
  writeAccess,
  writeOperation,
} from '../wasm/index.ts';

/** Deepest expression without a local variable in between: neither writer nor compiler should nest for ever. */
const deepest = 40;

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
 * What is used once is written where it is used, what is used again gets a local variable; operations come in
 * the order in which they were made. All slots are read before any that is also read is written.
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
  const nodes = nodesBelow([...assignments.map(([, value]) => value), ...kept]);
  const numbers = (nodes[nodes.length - 1]?.id ?? 0) + 1;
  const uses = new Int32Array(numbers);
  const countUse = (node: Node): void => {
    uses[node.id]++;
  };
  const read = new Set<number>();
  for (const node of nodes) {
    node.operands.forEach(countUse);
    if (node.slot !== null) read.add(node.slot.index);
  }
  for (const node of kept) countUse(node);
  const early = new Map<Node, Slot[]>();
  const late: Assignment[] = [];
  for (const assignment of assignments) {
    const [slot, value] = assignment;
    countUse(value);
    if (read.has(slot.index)) late.push(assignment);
    else early.set(value, [...(early.get(value) ?? []), slot]);
  }
  const mustStay = new Set([...kept, ...late.map(([, value]) => value)]);

  const locals: (readonly number[] | undefined)[] = new Array(numbers);
  const depths = new Int32Array(numbers);
  const isPlain = (node: Node): boolean => isConstant(node) || node.operation === 'pattern';
  const consume = (node: Node): void => {
    if (--uses[node.id] > 0) return;
    for (const local of locals[node.id] ?? []) pool.giveBack(local);
  };
  /** Leaves the value of one register on the stack. */
  const push = (node: Node, register: number): void => {
    const held = locals[node.id];
    if (held !== undefined) {
      out.byte(code.localGet);
      out.unsigned(held[register]);
      return;
    }
    pushFresh(node, register);
  };
  const pushFresh = (node: Node, register: number): void => {
    if (node.slot !== null) {
      out.byte(code.i32Const);
      out.signed(0);
      writeAccess(out, 'load', addressOf(format, node.slot, register), format.registerLanes);
      return;
    }
    for (const operand of node.operands) push(operand, register);
    writeOperation(out, node, format.registerLanes);
  };
  const consumeBelow = (node: Node): void => {
    for (const operand of node.operands) {
      if (locals[operand.id] === undefined && !isPlain(operand)) consumeBelow(operand);
      consume(operand);
    }
  };
  const store = (slot: Slot, value: Node): void => {
    for (let register = 0; register < format.registers; register++) {
      out.byte(code.i32Const);
      out.signed(0);
      push(value, register);
      writeAccess(out, 'store', addressOf(format, slot, register), format.registerLanes);
    }
  };

  for (const node of nodes) {
    let depth = 1;
    for (const { id } of node.operands) {
      if (locals[id] === undefined) depth = Math.max(depth, 1 + depths[id]);
    }
    depths[node.id] = depth;
    const targets = early.get(node) ?? [];
    const isShared = uses[node.id] > 1 && !isPlain(node);
    if (isShared || mustStay.has(node) || depth > deepest) {
      const type = registerType(node, format.registerLanes);
      const held = Array.from({ length: format.registers }, (_, register) => {
        pushFresh(node, register);
        const local = pool.take(type);
        out.byte(code.localSet);
        out.unsigned(local);
        return local;
      });
      consumeBelow(node);
      locals[node.id] = held;
    }
    for (const slot of targets) {
      store(slot, node);
      if (locals[node.id] === undefined) consumeBelow(node);
      consume(node);
    }
  }
  for (const [slot, value] of late) {
    store(slot, value);
    consume(value);
  }
  return kept.map((node) => locals[node.id] ?? []);
}
