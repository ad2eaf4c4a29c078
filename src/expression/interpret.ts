import { constantValue, expandDerivatives } from './differentiate.ts';
import { functionNamed } from './functions.ts';
import { curveThrough, type Table } from './table.ts';
import type { Tree } from './tree.ts';
import { CONSTANTS, childrenOf, keyOf, nameAt, nodesOf } from './walk.ts';

/**
 * The value of a tree by walking it: slow, and independent of the compiler, so that each can prove the other.
 * A condition gives 1 or 0.
 *
 * Integrals are by the double-exponential rule, another method than the compiler's: about 1e-12 for smooth
 * integrands, less where the integrand has a corner.
 * Source: H. Takahasi and M. Mori 1974, Publ. RIMS Kyoto Univ. 9, 721, doi:10.2977/prims/1195192451.
 *
 * @param lookUp SI value of a name, with its primes where it has some
 * @throws Error where `interpolate` names a table that is not given
 */
export function interpret(
  tree: Tree,
  lookUp: (name: string) => number,
  tables: ReadonlyMap<string, Table> = new Map(),
): number {
  return evaluate(expandDerivatives(tree), lookUp, tables);
}

function evaluate(root: Tree, lookUp: (name: string) => number, tables: ReadonlyMap<string, Table>): number {
  const values = new Map<Tree, number>();
  const of = (tree: Tree): number => values.get(tree) ?? Number.NaN;
  for (const node of nodesOf(root, neededBelow)) values.set(node, valueAt(node));
  return of(root);

  function valueAt(node: Tree): number {
    switch (node.kind) {
      case 'number':
        return node.value;
      case 'name':
        return CONSTANTS.get(node.name) ?? lookUp(keyOf(node));
      case 'negate':
        return -of(node.operand);
      case 'arithmetic':
        return operate(node, of(node.left), of(node.right));
      case 'compare':
        return compare(node, of(node.left), of(node.right));
      case 'logic': {
        const trueSides = of(node.left) + of(node.right);
        return trueSides === 2 || (trueSides === 1 && node.operator === 'or') ? 1 : 0;
      }
      case 'not':
        return 1 - of(node.operand);
      case 'choose':
        return of(node.selector) > 0 ? of(node.whenTrue) : of(node.whenFalse);
      case 'call':
        return callValue(node);
    }
  }

  function callValue(node: Tree & { kind: 'call' }): number {
    const parts = node.arguments;
    if (node.name === 'if') return of(parts[0]) === 1 ? of(parts[1]) : of(parts[2]);
    if (node.name === 'integrate') {
      const bound = nameAt(node, 1);
      const integrand = (s: number) =>
        evaluate(parts[0], (name) => (name === bound ? s : lookUp(name)), tables);
      return integrateDoubleExponential(integrand, of(parts[2]), of(parts[3]));
    }
    if (node.name === 'interpolate') {
      const table = tables.get(nameAt(node, 0));
      if (table === undefined) throw new Error(`No table "${nameAt(node, 0)}" is given.`);
      return curveThrough(table)(of(parts[1]), parts[2]?.kind === 'number' ? parts[2].value : 0);
    }
    const entry = functionNamed(node.name);
    if (entry === undefined || entry.evaluate === null)
      throw new Error(`No function is named "${node.name}".`);
    return entry.evaluate(...parts.map(of));
  }
}

function neededBelow(tree: Tree): readonly Tree[] {
  if (tree.kind === 'call' && tree.name === 'integrate') return [tree.arguments[2], tree.arguments[3]];
  if (tree.kind === 'call' && tree.name === 'interpolate') return [tree.arguments[1]];
  return childrenOf(tree);
}

/** Small whole powers are products: faster, and as exact as a power function. */
function operate(node: Tree & { kind: 'arithmetic' }, left: number, right: number): number {
  switch (node.operator) {
    case '+':
      return left + right;
    case '-':
      return left - right;
    case '*':
      return left * right;
    case '/':
      return left / right;
    case '^':
      switch (constantValue(node.right)) {
        case 2:
          return left * left;
        case 3:
          return left * left * left;
        case 4:
          return left * left * (left * left);
        case -1:
          return 1 / left;
        case -2:
          return 1 / (left * left);
        case 0.5:
          return Math.sqrt(left);
        default:
          // biome-ignore lint/style/useExponentiationOperator: the compiled code calls the same function
          return Math.pow(left, right);
      }
  }
}

function compare(node: Tree & { kind: 'compare' }, left: number, right: number): number {
  switch (node.operator) {
    case '<':
      return left < right ? 1 : 0;
    case '<=':
      return left <= right ? 1 : 0;
    case '>':
      return left > right ? 1 : 0;
    case '>=':
      return left >= right ? 1 : 0;
  }
}

const MOST_HALVINGS = 9;
/** Beyond this the nodes fall together with the ends in double precision. */
const FARTHEST = 3.2;

function integrateDoubleExponential(integrand: (s: number) => number, from: number, to: number): number {
  if (from === to) return 0;
  const centre = 0.5 * (from + to);
  const half = 0.5 * (to - from);
  const term = (u: number): number => {
    const inner = 0.5 * Math.PI * Math.sinh(u);
    const weight = (0.5 * Math.PI * Math.cosh(u)) / Math.cosh(inner) ** 2;
    const near = half / (Math.exp(Math.abs(inner)) * Math.cosh(inner));
    const s = u > 0 ? to - near : u < 0 ? from + near : centre;
    return s === from || s === to ? 0 : weight * integrand(s);
  };
  let step = 0.5;
  let sum = term(0);
  for (let u = step; u <= FARTHEST; u += step) sum += term(u) + term(-u);
  let value = half * step * sum;
  for (let halving = 0; halving < MOST_HALVINGS; halving += 1) {
    for (let u = 0.5 * step; u <= FARTHEST; u += step) sum += term(u) + term(-u);
    step *= 0.5;
    const next = half * step * sum;
    if (halving > 1 && Math.abs(next - value) <= 1e-14 * Math.abs(next)) return next;
    value = next;
  }
  return value;
}
