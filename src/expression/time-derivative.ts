import { add, isZero, multiply, ONE } from './build.ts';
import { differentiate, expandDerivatives } from './differentiate.ts';
import { substitute } from './substitute.ts';
import type { Tree } from './tree.ts';
import { mapTree, namesIn, nodesOf } from './walk.ts';

/** The name of time in every model. */
const TIME = 't';

/**
 * d/dt of an expression along the motion: the chain rule through the states, plus the derivative by t itself.
 *
 * @param tree  a value; may hold x', x'' of the states
 * @param rates rate of each state
 * @returns a tree without primes on states
 */
export function totalTimeDerivative(tree: Tree, rates: ReadonlyMap<string, Tree>): Tree {
  const plain = resolvePrimes(expandDerivatives(tree), rates);
  const free = namesIn(plain);
  let sum: Tree | undefined;
  for (const [name, rate] of [...rates, [TIME, ONE] as const]) {
    if (!free.has(name) || (name === TIME && rate === ONE && rates.has(TIME))) continue;
    const partial = differentiate(plain, name);
    if (isZero(partial)) continue;
    const term = multiply(partial, resolvePrimes(rate, rates));
    sum = sum === undefined ? term : add(sum, term);
  }
  return sum ?? { kind: 'number', value: 0, span: tree.span };
}

/**
 * The tree with x' replaced by the rate of x, x'' by the rate's own rate, and so on.
 *
 * A prime on a name that has no rate stays as it is.
 */
export function resolvePrimes(tree: Tree, rates: ReadonlyMap<string, Tree>): Tree {
  if (!nodesOf(tree).some((node) => node.kind === 'name' && node.primes > 0)) return tree;
  const made = new Map<string, Tree>();
  const derivative = (name: string, primes: number, rate: Tree): Tree => {
    if (primes === 1) return resolvePrimes(rate, rates);
    const key = `${name} ${primes}`;
    const known = made.get(key) ?? totalTimeDerivative(derivative(name, primes - 1, rate), rates);
    made.set(key, known);
    return known;
  };
  const standIns = new Map<string, Tree>();
  const marked = mapTree(tree, (node) => {
    if (node.kind !== 'name' || node.primes === 0) return node;
    const rate = rates.get(node.name);
    if (rate === undefined) return node;
    const standIn = `${node.name}'${node.primes}`;
    if (!standIns.has(standIn)) standIns.set(standIn, derivative(node.name, node.primes, rate));
    return { kind: 'name', name: standIn, primes: 0, span: node.span };
  });
  return substitute(marked, standIns);
}
