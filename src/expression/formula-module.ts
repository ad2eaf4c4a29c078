import {
  type BlockTask,
  ByteWriter,
  code,
  type FunctionType,
  functionBody,
  isConstant,
  LocalPool,
  libraryTypes,
  type Node,
  type OpenBlock,
  registerType,
  valueType,
  type WrittenFunction,
  writeModule,
  writeOperations,
} from '../wasm/index.ts';
import type { Block, Callee, FormulaBlocks } from './formula-blocks.ts';
import { ExpressionTooLarge } from './limits.ts';

const { f64, i32 } = valueType;
const ofOne: FunctionType = { takes: [f64], gives: [f64] };
const ofTwo: FunctionType = { takes: [f64, f64], gives: [f64] };

/** JavaScript engines allow 50 000 local variables a function. */
const mostLocals = 49_000;

/** Names of the functions that the host calls. */
export const runName = 'run';
export const rowsName = 'rows';
export const integrandName = (callee: number): string => `integrand ${callee}`;
export const calleeName = (callee: number): string => `callee ${callee}`;

/** A value and the address where it is put. */
export interface Output {
  readonly address: number;
  readonly value: Node;
}

/** What a module is to do. */
export interface FormulaTask {
  readonly blocks: FormulaBlocks;
  /** Address of each argument of the outermost block, and of its first row for the loop over rows. */
  readonly addresses: ReadonlyMap<Node, number>;
  readonly outputs: readonly Output[];
  /** The column that the loop over rows writes, where there is one. */
  readonly column: Output | null;
  readonly pages: number;
}

/**
 * Writes the module of a program: a function `run` that puts the outputs into memory, a function `rows` that goes
 * over rows from one address to another, and a function for each integrand. Values that one block shares with
 * blocks inside it stand in global variables.
 */
export function writeFormulaModule(task: FormulaTask): Uint8Array<ArrayBuffer> {
  const { blocks, outputs, column, pages } = task;
  for (const { value } of outputs) blocks.settle(value, blocks.outermost);
  if (column !== null) blocks.settle(column.value, blocks.rows);
  const globals = new GlobalList();
  const functions: WrittenFunction[] = [];
  for (const [index, callee] of blocks.callees.entries()) {
    if (callee.kind !== 'integral') continue;
    const writer = new BlockWriter(task, globals, callee.block, [f64]);
    functions.push({ name: integrandName(index), type: ofOne, body: writer.writeValue(callee.root) });
  }
  if (column !== null) {
    const writer = new BlockWriter(task, globals, blocks.rows, [i32, i32]);
    functions.push({
      name: rowsName,
      type: { takes: [i32, i32], gives: [] },
      body: writer.writeLoop(column),
    });
  }
  const writer = new BlockWriter(task, globals, blocks.outermost, []);
  functions.push({ name: runName, type: { takes: [], gives: [] }, body: writer.writeOutputs(outputs) });
  const imports = blocks.callees.map((callee, index) => ({ name: calleeName(index), type: typeOf(callee) }));
  return writeModule({ pages, imports, functions, globals: globals.types });
}

function typeOf(callee: Callee): FunctionType {
  if (callee.kind === 'integral') return ofTwo;
  return callee.kind === 'curve' ? ofOne : (libraryTypes.get(callee.name) ?? ofOne);
}

class GlobalList {
  readonly types: number[] = [];
  private readonly known = new Map<Node, number>();

  numberOf(node: Node): number {
    const known = this.known.get(node) ?? this.types.push(registerType(node, 1)) - 1;
    this.known.set(node, known);
    return known;
  }
}

/** Writes the function of one block. */
class BlockWriter {
  private readonly out = new ByteWriter();
  private readonly pool: LocalPool;
  private readonly task: FormulaTask;
  private readonly globals: GlobalList;
  private readonly block: Block;
  private readonly parameterCount: number;

  constructor(task: FormulaTask, globals: GlobalList, block: Block, parameters: readonly number[]) {
    this.task = task;
    this.globals = globals;
    this.block = block;
    this.pool = new LocalPool(parameters);
    this.parameterCount = parameters.length;
  }

  writeOutputs(outputs: readonly Output[]): ByteWriter {
    const addresses = new Map<Node, number[]>();
    for (const { address, value } of outputs) {
      addresses.set(value, [...(addresses.get(value) ?? []), address]);
    }
    this.write(
      outputs.map(({ value }) => value),
      (node, open) => {
        for (const address of addresses.get(node) ?? []) {
          this.instruct(code.i32Const, 0);
          open.push(node, 0);
          this.access(code.f64Store, address);
          open.consume(node);
        }
      },
    );
    return this.finish();
  }

  writeValue(root: Node): ByteWriter {
    this.write([root], () => undefined).push(root, 0);
    return this.finish();
  }

  /** Parameter 0 is the address of the row, beyond the column's own; parameter 1 where the last row ends. */
  writeLoop({ address, value }: Output): ByteWriter {
    const { out } = this;
    out.byte(code.loop);
    out.byte(valueType.none);
    const open = this.write([value], () => undefined);
    this.instruct(code.localGet, 0);
    open.push(value, 0);
    this.access(code.f64Store, address);
    this.instruct(code.localGet, 0);
    this.instruct(code.i32Const, 8);
    out.byte(code.i32Add);
    this.instruct(code.localTee, 0);
    this.instruct(code.localGet, 1);
    out.byte(code.i32LessSigned);
    this.instruct(code.brIf, 0);
    out.byte(code.end);
    return this.finish();
  }

  private write(wanted: readonly Node[], whenKnown: (node: Node, open: OpenBlock) => void) {
    const { out, task, block, globals } = this;
    const { blocks, addresses } = task;
    const shared = blocks.sharedBy(block);
    const blockTask: BlockTask = {
      wanted: [...wanted, ...shared],
      kept: new Set(),
      whenKnown: (node, open) => {
        if (shared.has(node)) {
          open.push(node, 0);
          this.instruct(code.globalSet, globals.numberOf(node));
          open.consume(node);
        }
        whenKnown(node, open);
      },
    };
    return writeOperations(
      out,
      this.pool,
      {
        registers: 1,
        registerLanes: 1,
        isLeaf: (node) =>
          node.operation === 'argument' || (blocks.blockOf(node) !== block && !isConstant(node)),
        isCheap: (node) =>
          node.operation === 'argument' && !addresses.has(node) && blocks.blockOf(node) === block,
        pushLeaf: (node) => {
          const address = addresses.get(node);
          if (blocks.blockOf(node) !== block) this.instruct(code.globalGet, globals.numberOf(node));
          else if (address === undefined) this.instruct(code.localGet, 0);
          else {
            if (block === blocks.outermost) this.instruct(code.i32Const, 0);
            else this.instruct(code.localGet, 0);
            this.access(code.f64Load, address);
          }
        },
        writeCall: (node) => this.instruct(code.call, node.value),
      },
      blockTask,
    );
  }

  private instruct(instruction: number, operand: number): void {
    this.out.byte(instruction);
    if (instruction === code.i32Const) this.out.signed(operand);
    else this.out.unsigned(operand);
  }

  private access(instruction: number, address: number): void {
    this.out.byte(instruction);
    this.out.unsigned(3);
    this.out.unsigned(address);
  }

  private finish(): ByteWriter {
    const locals = this.pool.types.slice(this.parameterCount);
    if (locals.length > mostLocals)
      throw new ExpressionTooLarge(`More than ${mostLocals} values are wanted at a time.`);
    return functionBody(locals, this.out);
  }
}
