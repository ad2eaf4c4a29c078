import { type Node, nodesBelow } from './graph.ts';

const numbers = new Float64Array(1);
const words = new BigInt64Array(numbers.buffer);

/**
 * The values of nodes on one lane, by walking the graph: slow, and the measure of what the machine code must
 * give, bit for bit. A mask gives 1 or 0.
 *
 * @param read what a load or an argument gives
 */
export function evaluateGraph(roots: readonly Node[], read: (leaf: Node) => number): Float64Array {
  const plain = new Map<Node, number>();
  const bits = new Map<Node, bigint>();
  for (const node of nodesBelow(roots)) {
    if (node.type === 'bits') bits.set(node, bitsValue(node, plain, bits));
    else plain.set(node, plainValue(node, plain, bits, read));
  }
  return Float64Array.from(roots, (root) => plain.get(root) ?? Number.NaN);
}

function plainValue(
  node: Node,
  plain: ReadonlyMap<Node, number>,
  bits: ReadonlyMap<Node, bigint>,
  read: (leaf: Node) => number,
): number {
  const [a = 0, b = 0, c = 0] = node.operands.map((operand) => plain.get(operand));
  switch (node.operation) {
    case 'constant':
      return node.value;
    case 'load':
    case 'argument':
      return read(node);
    case 'add':
      return a + b;
    case 'subtract':
      return a - b;
    case 'multiply':
      return a * b;
    case 'divide':
      return a / b;
    case 'negate':
      return -a;
    case 'abs':
      return Math.abs(a);
    case 'sqrt':
      return Math.sqrt(a);
    case 'floor':
      return Math.floor(a);
    case 'nearest':
      return nearestEven(a);
    case 'min':
      return Math.min(a, b);
    case 'max':
      return Math.max(a, b);
    case 'select':
      return c === 1 ? a : b;
    case 'less':
      return a < b ? 1 : 0;
    case 'lessOrEqual':
      return a <= b ? 1 : 0;
    case 'equal':
      return a === b ? 1 : 0;
    case 'notEqual':
      return a !== b ? 1 : 0;
    case 'and':
      return a === 1 && b === 1 ? 1 : 0;
    case 'or':
      return a === 1 || b === 1 ? 1 : 0;
    case 'not':
      return 1 - a;
    case 'numberOf':
      words[0] = bits.get(node.operands[0]) ?? 0n;
      return numbers[0];
    default:
      throw new Error(`${node.operation} gives bits, not a number.`);
  }
}

function bitsValue(node: Node, plain: ReadonlyMap<Node, number>, bits: ReadonlyMap<Node, bigint>): bigint {
  const [a = 0n, b = 0n] = node.operands.map((operand) => bits.get(operand));
  switch (node.operation) {
    case 'pattern':
      return node.pattern;
    case 'bitsOf':
      numbers[0] = plain.get(node.operands[0]) ?? Number.NaN;
      return words[0];
    case 'addBits':
      return BigInt.asIntN(64, a + b);
    case 'subtractBits':
      return BigInt.asIntN(64, a - b);
    case 'andBits':
      return a & b;
    case 'orBits':
      return a | b;
    case 'xorBits':
      return a ^ b;
    case 'shiftLeft':
      return BigInt.asIntN(64, a << BigInt(node.value));
    case 'shiftRight':
      return BigInt.asIntN(64, BigInt.asUintN(64, a) >> BigInt(node.value));
    default:
      throw new Error(`${node.operation} gives a number, not bits.`);
  }
}

function nearestEven(value: number): number {
  const below = Math.floor(value);
  const rest = value - below;
  if (rest === 0) return value;
  const goesDown = rest < 0.5 || (rest === 0.5 && below % 2 === 0);
  const rounded = goesDown ? below : below + 1;
  return rounded === 0 && value < 0 ? -0 : rounded;
}
