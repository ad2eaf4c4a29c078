/** What a node is on each lane: a double, true or false, or 64 bits. */
export type LaneType = 'number' | 'mask' | 'bits';

export type Operation =
  | 'constant'
  | 'pattern'
  | 'load'
  | 'argument'
  | 'call'
  | 'loadRow'
  | 'add'
  | 'subtract'
  | 'multiply'
  | 'divide'
  | 'negate'
  | 'abs'
  | 'sqrt'
  | 'floor'
  | 'nearest'
  | 'min'
  | 'max'
  | 'select'
  | 'less'
  | 'lessOrEqual'
  | 'equal'
  | 'notEqual'
  | 'and'
  | 'or'
  | 'not'
  | 'bitsOf'
  | 'numberOf'
  | 'addBits'
  | 'subtractBits'
  | 'andBits'
  | 'orBits'
  | 'xorBits'
  | 'shiftLeft'
  | 'shiftRight';

/** A place in the module's memory that holds one double a lane. */
export interface Slot {
  readonly index: number;
  /** Written once a draw, before the motion begins. */
  readonly fixed: boolean;
}

/** A row of a column in the module's memory, one double a lane: the row at hand, or one some rows later. */
export interface RowPlace {
  readonly column: number;
  readonly shift: number;
}

/** One operation on all lanes alike; nodes that are alike are one object. */
export interface Node {
  /** Grows in the order of making, so that operands have smaller numbers. */
  readonly id: number;
  readonly operation: Operation;
  readonly type: LaneType;
  readonly operands: readonly Node[];
  /** A constant's value, the count of a shift, the number of an argument, or of what is called. */
  readonly value: number;
  readonly pattern: bigint;
  readonly slot: Slot | null;
  readonly row: RowPlace | null;
  /** The value cannot change along a motion. */
  readonly fixed: boolean;
}

/** Thrown where a program would grow beyond `mostNodes`. */
export class GraphTooLarge extends Error {
  override readonly name = 'GraphTooLarge';
}

/** Most nodes of one graph: beyond it, browsers take too long to compile the module. */
const mostNodes = 60_000;

const none: readonly Node[] = [];

/**
 * The small typed intermediate form: operations on lanes, each kept once.
 *
 * Only operations that WebAssembly rounds as IEEE 754 says are among them, none that fuses or approximates:
 * so a value has the same bits for every number of lanes, on every machine.
 */
export class Graph {
  private readonly known = new Map<string, Node>();
  private readonly most: number;
  private count = 0;

  /** @param most nodes that it may come to hold */
  constructor(most = mostNodes) {
    this.most = most;
  }

  constant(value: number): Node {
    const key = Object.is(value, -0) ? 'constant -0' : `constant ${value}`;
    return this.keep(key, 'constant', 'number', none, value, 0n);
  }

  /** 64 bits that are the same on all lanes. */
  pattern(bits: bigint): Node {
    return this.keep(`pattern ${bits}`, 'pattern', 'bits', none, 0, bits);
  }

  load(slot: Slot): Node {
    return this.keep(`load ${slot.index}`, 'load', 'number', none, 0, 0n, slot);
  }

  /** What is given to the code from outside; the writer of the code knows how. */
  argument(index: number): Node {
    return this.keep(`argument ${index}`, 'argument', 'number', none, index, 0n, null);
  }

  /** What code elsewhere makes of some values: the same for the same values. */
  call(callee: number, operands: readonly Node[]): Node {
    const key = operands.reduce((text, { id }) => `${text}:${id}`, `call ${callee}`);
    return this.keep(key, 'call', 'number', operands, callee, 0n, null);
  }

  /** The value of a column at the row at hand of a loop over rows, or `shift` rows later. */
  loadRow(column: number, shift: number): Node {
    const key = `row ${column} ${shift}`;
    return this.keep(key, 'loadRow', 'number', none, 0, 0n, null, { column, shift });
  }

  add(a: Node, b: Node): Node {
    if (isConstant(a) && isConstant(b)) return this.constant(a.value + b.value);
    return this.make('add', 'number', a, b);
  }

  subtract(a: Node, b: Node): Node {
    if (isConstant(a) && isConstant(b)) return this.constant(a.value - b.value);
    return this.make('subtract', 'number', a, b);
  }

  multiply(a: Node, b: Node): Node {
    if (isConstant(a) && isConstant(b)) return this.constant(a.value * b.value);
    if (isConstant(a) && a.value === 1) return b;
    if (isConstant(b) && b.value === 1) return a;
    return this.make('multiply', 'number', a, b);
  }

  divide(a: Node, b: Node): Node {
    if (isConstant(a) && isConstant(b)) return this.constant(a.value / b.value);
    return this.make('divide', 'number', a, b);
  }

  negate(a: Node): Node {
    if (isConstant(a)) return this.constant(-a.value);
    return a.operation === 'negate' ? a.operands[0] : this.make('negate', 'number', a);
  }

  abs(a: Node): Node {
    return this.make('abs', 'number', a);
  }

  sqrt(a: Node): Node {
    return isConstant(a) ? this.constant(Math.sqrt(a.value)) : this.make('sqrt', 'number', a);
  }

  floor(a: Node): Node {
    return this.make('floor', 'number', a);
  }

  /** The nearest whole number, ties to even. */
  nearest(a: Node): Node {
    return this.make('nearest', 'number', a);
  }

  /** Not a number where either is not; −0 is below +0. */
  min(a: Node, b: Node): Node {
    return this.make('min', 'number', a, b);
  }

  max(a: Node, b: Node): Node {
    return this.make('max', 'number', a, b);
  }

  select(condition: Node, whenTrue: Node, whenFalse: Node): Node {
    if (whenTrue === whenFalse) return whenTrue;
    return this.make('select', 'number', whenTrue, whenFalse, condition);
  }

  less(a: Node, b: Node): Node {
    return this.make('less', 'mask', a, b);
  }

  lessOrEqual(a: Node, b: Node): Node {
    return this.make('lessOrEqual', 'mask', a, b);
  }

  equal(a: Node, b: Node): Node {
    return this.make('equal', 'mask', a, b);
  }

  notEqual(a: Node, b: Node): Node {
    return this.make('notEqual', 'mask', a, b);
  }

  and(a: Node, b: Node): Node {
    return a === b ? a : this.make('and', 'mask', a, b);
  }

  or(a: Node, b: Node): Node {
    return a === b ? a : this.make('or', 'mask', a, b);
  }

  not(a: Node): Node {
    return a.operation === 'not' ? a.operands[0] : this.make('not', 'mask', a);
  }

  bitsOf(a: Node): Node {
    return this.make('bitsOf', 'bits', a);
  }

  numberOf(a: Node): Node {
    return a.operation === 'bitsOf' ? a.operands[0] : this.make('numberOf', 'number', a);
  }

  bits(operation: 'addBits' | 'subtractBits' | 'andBits' | 'orBits' | 'xorBits', a: Node, b: Node): Node {
    return this.make(operation, 'bits', a, b);
  }

  shift(operation: 'shiftLeft' | 'shiftRight', a: Node, count: number): Node {
    return this.keep(`${operation} ${count}:${a.id}`, operation, 'bits', [a], count, 0n);
  }

  private make(operation: Operation, type: LaneType, ...operands: readonly Node[]): Node {
    let key: string = operation;
    for (const operand of operands) key += `:${operand.id}`;
    return this.keep(key, operation, type, operands, 0, 0n);
  }

  private keep(
    key: string,
    operation: Operation,
    type: LaneType,
    operands: readonly Node[],
    value: number,
    pattern: bigint,
    slot: Slot | null = null,
    row: RowPlace | null = null,
  ): Node {
    const before = this.known.get(key);
    if (before !== undefined) return before;
    if (this.count >= this.most) throw new GraphTooLarge(`More than ${this.most} operations are needed.`);
    const fixed =
      operation !== 'argument' && row === null && (slot?.fixed ?? operands.every((operand) => operand.fixed));
    const node: Node = { id: this.count++, operation, type, operands, value, pattern, slot, row, fixed };
    this.known.set(key, node);
    return node;
  }
}

/** Whether a node stands for one plain number. */
export function isConstant(node: Node): boolean {
  return node.operation === 'constant';
}

/**
 * The nodes that some roots need, each after its operands.
 *
 * @param isLeaf nodes whose operands are not looked at
 */
export function nodesBelow(
  roots: readonly Node[],
  isLeaf: (node: Node) => boolean = () => false,
): readonly Node[] {
  const largest = roots.reduce((most, { id }) => Math.max(most, id), 0);
  const found: (Node | undefined)[] = new Array(largest + 1);
  const stack = [...roots];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (found[node.id] !== undefined) continue;
    found[node.id] = node;
    if (isLeaf(node)) continue;
    for (const operand of node.operands) if (found[operand.id] === undefined) stack.push(operand);
  }
  return found.filter((node) => node !== undefined);
}
