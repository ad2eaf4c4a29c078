import { type Graph, isConstant, type Node } from './graph.ts';

/** Value of a polynomial, by Estrin's scheme: short chains of operations that wait for one another. */
export function polynomial(g: Graph, x: Node, coefficients: readonly number[]): Node {
  let terms = coefficients.map((coefficient) => g.constant(coefficient));
  let power = x;
  while (terms.length > 1) {
    const next: Node[] = [];
    for (let i = 0; i < terms.length; i += 2) {
      next.push(i + 1 < terms.length ? g.add(terms[i], g.multiply(terms[i + 1], power)) : terms[i]);
    }
    terms = next;
    if (terms.length > 1) power = g.multiply(power, power);
  }
  return terms[0];
}

/** A number in two parts, the second below half a unit in the last place of the first. */
export interface Pair {
  readonly high: Node;
  readonly low: Node;
}

/** a + b without error. Source: D. E. Knuth, The Art of Computer Programming 2, 4.2.2, theorem B */
export function addExactly(g: Graph, a: Node, b: Node): Pair {
  const high = g.add(a, b);
  const second = g.subtract(high, a);
  const low = g.add(g.subtract(a, g.subtract(high, second)), g.subtract(b, second));
  return { high, low };
}

/** a + b without error where |a| ≥ |b|. Source: T. J. Dekker 1971, Numer. Math. 18, 224, doi:10.1007/BF01397083 */
export function addOrdered(g: Graph, a: Node, b: Node): Pair {
  const high = g.add(a, b);
  return { high, low: g.subtract(b, g.subtract(high, a)) };
}

/** a·b without error, below about 1e300. Source: T. J. Dekker 1971, Numer. Math. 18, 224, doi:10.1007/BF01397083 */
export function multiplyExactly(g: Graph, a: Node, b: Node): Pair {
  const high = g.multiply(a, b);
  const [a1, a2] = halve(g, a);
  const [b1, b2] = halve(g, b);
  const first = g.subtract(g.multiply(a1, b1), high);
  const low = g.add(g.add(g.add(first, g.multiply(a1, b2)), g.multiply(a2, b1)), g.multiply(a2, b2));
  return { high, low };
}

/** The upper 26 bits and the rest. */
function halve(g: Graph, a: Node): readonly [Node, Node] {
  const scaled = g.multiply(a, g.constant(134217729));
  const upper = g.subtract(scaled, g.subtract(scaled, a));
  return [upper, g.subtract(a, upper)];
}

/** What a whole number is added to so that its bits become the lowest of the sum's. */
const toBits = 1.5 * 2 ** 52;

/** A whole number, |n| < 2⁵¹, and the sum in whose lowest bits it stands. */
export interface Whole {
  readonly n: Node;
  readonly sum: Node;
}

/** The whole number nearest to x, ties to even, for |x| < 2⁵¹. */
export function nearestWhole(g: Graph, x: Node): Whole {
  const sum = g.add(x, g.constant(toBits));
  return { n: g.subtract(sum, g.constant(toBits)), sum };
}

/** 2ⁿ, −1022 ≤ n ≤ 1023. */
export function powerOfTwo(g: Graph, { sum }: Whole): Node {
  const exponent = g.bits('addBits', g.bitsOf(sum), g.pattern(1023n));
  return g.numberOf(g.shift('shiftLeft', exponent, 52));
}

export const signBit = 1n << 63n;

/** |a| with the sign of b. */
export function withSignOf(g: Graph, a: Node, b: Node): Node {
  return g.numberOf(g.bits('orBits', g.bitsOf(g.abs(a)), signOf(g, b)));
}

/** The bit that says that a number is negative. */
export function signOf(g: Graph, a: Node): Node {
  return g.bits('andBits', g.bitsOf(a), g.pattern(signBit));
}

/** a, turned where a whole number is odd, and turned by a sign bit. */
export function turned(g: Graph, a: Node, { sum }: Whole, sign: Node): Node {
  const odd = g.shift('shiftLeft', g.bitsOf(sum), 63);
  return g.numberOf(g.bits('xorBits', g.bitsOf(a), g.bits('xorBits', odd, sign)));
}

/** Whether a node is this plain number. */
export function isNumber(node: Node, value: number): boolean {
  return isConstant(node) && node.value === value;
}
