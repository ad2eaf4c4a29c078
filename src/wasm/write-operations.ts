import type { ByteWriter } from './byte-writer.ts';
import { isConstant, type Node, nodesBelow } from './graph.ts';
import { type RegisterLanes, registerType, writeOperation } from './instructions.ts';
import type { LocalPool } from './local-pool.ts';
import { code } from './opcodes.ts';

/** Deepest expression without a local variable in between: neither writer nor compiler should nest for ever. */
const deepest = 40;

/** How a block of straight-line operations gets what is not worked out in it. */
export interface BlockForm {
  /** Registers that hold one value on all lanes, and lanes of each. */
  readonly registers: number;
  readonly registerLanes: RegisterLanes;
  /** Whether a node is had from outside rather than from its operands. */
  isLeaf(node: Node): boolean;
  /** Leaves one register of a leaf on the stack. */
  pushLeaf(node: Node, register: number): void;
  /** Whether a leaf is had again as cheaply as from a local variable. */
  isCheap(node: Node): boolean;
  /** Calls the code that a node of the kind `call` stands for; its operands stand on the stack. */
  writeCall(node: Node): void;
}

/** A block in writing: where values stand while they are wanted. */
export interface OpenBlock {
  /** Leaves one register of a value on the stack. */
  push(node: Node, register: number): void;
  /** Says that a value has been used once of the times it was announced. */
  consume(node: Node): void;
}

/** What a block is for. */
export interface BlockTask {
  /** Every value wanted from the block, as often as it will be consumed. */
  readonly wanted: readonly Node[];
  /** Values that must stand in local variables at the end. */
  readonly kept: ReadonlySet<Node>;
  /** Called as soon as a value can be pushed. */
  readonly whenKnown?: (node: Node, block: OpenBlock) => void;
}

/**
 * Writes straight-line code: works out values, keeps in local variables what is wanted again.
 *
 * What is used once is written where it is used; operations come in the order in which they were made.
 *
 * @returns the block, from which kept values can be pushed, and the locals in which each stands, one a register
 */
export function writeOperations(
  out: ByteWriter,
  pool: LocalPool,
  form: BlockForm,
  task: BlockTask,
): OpenBlock & { localsOf(node: Node): readonly number[] } {
  const nodes = nodesBelow(task.wanted, (node) => form.isLeaf(node));
  const numbers = (nodes[nodes.length - 1]?.id ?? 0) + 1;
  const uses = new Int32Array(numbers);
  for (const node of task.wanted) uses[node.id]++;
  for (const node of nodes) {
    if (!form.isLeaf(node)) for (const { id } of node.operands) uses[id]++;
  }
  const locals: (readonly number[] | undefined)[] = new Array(numbers);
  const depths = new Int32Array(numbers);
  const isPlain = (node: Node): boolean =>
    isConstant(node) || node.operation === 'pattern' || (form.isLeaf(node) && form.isCheap(node));

  const consume = (node: Node): void => {
    if (locals[node.id] === undefined && !isPlain(node)) consumeBelow(node);
    if (--uses[node.id] > 0) return;
    for (const local of locals[node.id] ?? []) pool.giveBack(local);
  };
  const consumeBelow = (node: Node): void => {
    if (!form.isLeaf(node)) node.operands.forEach(consume);
  };
  const push = (node: Node, register: number): void => {
    const held = locals[node.id];
    if (held === undefined) {
      pushFresh(node, register);
      return;
    }
    out.byte(code.localGet);
    out.unsigned(held[register]);
  };
  const pushFresh = (node: Node, register: number): void => {
    if (form.isLeaf(node)) {
      form.pushLeaf(node, register);
      return;
    }
    for (const operand of node.operands) push(operand, register);
    if (node.operation === 'call') form.writeCall(node);
    else writeOperation(out, node, form.registerLanes);
  };
  const block = { push, consume, localsOf: (node: Node) => locals[node.id] ?? [] };

  for (const node of nodes) {
    let depth = 1;
    if (!form.isLeaf(node)) {
      for (const { id } of node.operands) {
        if (locals[id] === undefined) depth = Math.max(depth, 1 + depths[id]);
      }
    }
    depths[node.id] = depth;
    const isShared = uses[node.id] > 1 && !isPlain(node);
    if (isShared || task.kept.has(node) || depth > deepest) {
      const type = registerType(node, form.registerLanes);
      const held = Array.from({ length: form.registers }, (_, register) => {
        pushFresh(node, register);
        const local = pool.take(type);
        out.byte(code.localSet);
        out.unsigned(local);
        return local;
      });
      consumeBelow(node);
      locals[node.id] = held;
    }
    task.whenKnown?.(node, block);
  }
  return block;
}
