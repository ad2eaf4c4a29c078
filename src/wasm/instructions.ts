import type { ByteWriter } from './byte-writer.ts';
import type { Node, Operation } from './graph.ts';
import { code, valueType, vector, vectorPrefix } from './opcodes.ts';

/** How many lanes one register holds: a plain double, or a vector of two. */
export type RegisterLanes = 1 | 2;

const scalarCodes: Partial<Record<Operation, number>> = {
  add: code.f64Add,
  subtract: code.f64Subtract,
  multiply: code.f64Multiply,
  divide: code.f64Divide,
  negate: code.f64Negate,
  abs: code.f64Abs,
  sqrt: code.f64Sqrt,
  floor: code.f64Floor,
  nearest: code.f64Nearest,
  min: code.f64Min,
  max: code.f64Max,
  select: code.select,
  less: code.f64Less,
  lessOrEqual: code.f64LessOrEqual,
  equal: code.f64Equal,
  notEqual: code.f64NotEqual,
  and: code.i32And,
  or: code.i32Or,
  not: code.i32Eqz,
  bitsOf: code.i64ReinterpretF64,
  numberOf: code.f64ReinterpretI64,
  addBits: code.i64Add,
  subtractBits: code.i64Subtract,
  andBits: code.i64And,
  orBits: code.i64Or,
  xorBits: code.i64Xor,
  shiftLeft: code.i64ShiftLeft,
  shiftRight: code.i64ShiftRightUnsigned,
};

const vectorCodes: Partial<Record<Operation, number>> = {
  add: vector.f64Add,
  subtract: vector.f64Subtract,
  multiply: vector.f64Multiply,
  divide: vector.f64Divide,
  negate: vector.f64Negate,
  abs: vector.f64Abs,
  sqrt: vector.f64Sqrt,
  floor: vector.f64Floor,
  nearest: vector.f64Nearest,
  min: vector.f64Min,
  max: vector.f64Max,
  select: vector.bitSelect,
  less: vector.f64Less,
  lessOrEqual: vector.f64LessOrEqual,
  equal: vector.f64Equal,
  notEqual: vector.f64NotEqual,
  and: vector.and,
  or: vector.or,
  not: vector.not,
  addBits: vector.i64Add,
  subtractBits: vector.i64Subtract,
  andBits: vector.and,
  orBits: vector.or,
  xorBits: vector.xor,
  shiftLeft: vector.i64ShiftLeft,
  shiftRight: vector.i64ShiftRightUnsigned,
};

/** Writes what a node does; its operands stand on the stack. */
export function writeOperation(out: ByteWriter, node: Node, lanes: RegisterLanes): void {
  switch (node.operation) {
    case 'constant':
      out.byte(code.f64Const);
      out.double(node.value);
      if (lanes === 2) writeVector(out, vector.f64Splat);
      return;
    case 'pattern':
      out.byte(code.i64Const);
      out.signed64(node.pattern);
      if (lanes === 2) writeVector(out, vector.i64Splat);
      return;
    case 'shiftLeft':
    case 'shiftRight':
      out.byte(lanes === 2 ? code.i32Const : code.i64Const);
      out.signed(node.value);
      break;
    case 'bitsOf':
    case 'numberOf':
      // A vector has no type of its own.
      if (lanes === 2) return;
      break;
    default:
      break;
  }
  const found = (lanes === 2 ? vectorCodes : scalarCodes)[node.operation];
  if (found === undefined) throw new Error(`${node.operation} has no instruction.`);
  if (lanes === 2) writeVector(out, found);
  else out.byte(found);
}

export function writeVector(out: ByteWriter, instruction: number): void {
  out.byte(vectorPrefix);
  out.unsigned(instruction);
}

/** Loads or stores one register; the address stands on the stack (below the value). */
export function writeAccess(
  out: ByteWriter,
  kind: 'load' | 'store',
  offset: number,
  lanes: RegisterLanes,
): void {
  if (lanes === 2) {
    writeVector(out, kind === 'load' ? vector.load : vector.store);
    out.unsigned(4);
  } else {
    out.byte(kind === 'load' ? code.f64Load : code.f64Store);
    out.unsigned(3);
  }
  out.unsigned(offset);
}

/** The type of the local variable that keeps a node. */
export function registerType(node: Node, lanes: RegisterLanes): number {
  if (lanes === 2) return valueType.v128;
  if (node.type === 'number') return valueType.f64;
  return node.type === 'mask' ? valueType.i32 : valueType.i64;
}
