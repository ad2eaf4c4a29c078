import {
  add,
  call,
  differentiate,
  multiply,
  namesIn,
  number,
  simplify,
  substitute,
  type Tree,
  toText,
  totalTimeDerivative,
} from '../expression/index.ts';
import { type Problem, problem } from '../problem/index.ts';
import { type FoundFriction, holdingName, slipName } from './switch-list.ts';

/** What the shares of q dry frictions must solve while they stick. */
export interface FrictionEquations {
  /** Rate of each velocity, taken as if nothing stuck. */
  readonly free: readonly Tree[];
  /** Their q × q derivatives by the shares, row-major. */
  readonly influence: readonly Tree[];
  /** Every limit, friction by friction. */
  readonly limits: readonly Tree[];
}

/**
 * The equations by which sticking frictions hold: the rate of each velocity, linear in the shares of the limits.
 *
 * @param rates of the states, with branches taken out
 * @param problems gets what is wrong: a friction in no rate, one that enters otherwise than linearly, one whose
 *   limit or velocity depends on another's value
 */
export function writeFrictionEquations(
  frictions: readonly FoundFriction[],
  rates: ReadonlyMap<string, Tree>,
  problems: Problem[],
): FrictionEquations {
  const holdings = frictions.map((_, index) => holdingName(index));
  const none = new Map(holdings.map((name) => [name, number(0)]));
  const free: Tree[] = [];
  const influence: Tree[] = [];
  for (const [index, friction] of frictions.entries()) {
    const rate = simplify(totalTimeDerivative(friction.velocity, rates));
    const byShare = holdings.map((name) => simplify(differentiate(rate, name)));
    const fault = findFault(friction, index, frictions, rates, byShare);
    if (fault !== undefined) problems.push(fault);
    free.push(simplify(substitute(rate, none)));
    influence.push(...byShare);
  }
  return { free, influence, limits: frictions.flatMap(({ limits }) => limits.map(({ limit }) => limit)) };
}

function findFault(
  { velocity, limits }: FoundFriction,
  index: number,
  frictions: readonly FoundFriction[],
  rates: ReadonlyMap<string, Tree>,
  byShare: readonly Tree[],
): Problem | undefined {
  const { text, place } = limits[0];
  const shares = new Set(frictions.flatMap((_, k) => [holdingName(k), slipName(k)]));
  const holdsShare = (tree: Tree): boolean => [...namesIn(tree)].some((name) => shares.has(name));
  if (![...namesIn(velocity)].some((name) => rates.has(name) || name === 't')) {
    return problem(
      'friction-without-velocity',
      place,
      `The second argument of ${text} does not change with the motion; it must be the velocity that the friction works against.`,
    );
  }
  if (holdsShare(velocity) || limits.some(({ limit }) => holdsShare(limit))) {
    return problem(
      'friction-of-friction',
      place,
      `The limit or velocity of ${text} depends on a dry friction; it may depend on states, quantities and the time only.`,
    );
  }
  if (![...rates.values()].some((rate) => namesIn(rate).has(holdingName(index)))) {
    return problem(
      'friction-in-no-rate',
      place,
      `${text} stands in no rate, so nothing says what it holds against.`,
      `Let it stand in the rate of ${toText(velocity)} too.`,
    );
  }
  if (byShare.some(holdsShare)) {
    return problem(
      'friction-not-linear',
      place,
      `The rate of the velocity of ${text} does not change in step with it; a friction force must enter as a sum.`,
    );
  }
  return undefined;
}

/**
 * A value of parameters alone that is 0 exactly where all limits of a friction are; undefined where there is none.
 */
export function switchingFactor(friction: FoundFriction, parameters: ReadonlySet<string>): Tree | undefined {
  const factors = friction.limits.map(({ limit }) => fixedFactors(limit, parameters));
  if (factors.some((found) => found.length === 0)) return undefined;
  return factors.map((found) => call('abs', found.reduce(multiply))).reduce(add);
}

/** The parameter-only factors of a limit: where their product is 0 the limit is. */
function fixedFactors(limit: Tree, parameters: ReadonlySet<string>): readonly Tree[] {
  const names = [...namesIn(limit)];
  if (names.length > 0 && names.every((name) => parameters.has(name))) return [limit];
  if (limit.kind === 'negate') return fixedFactors(limit.operand, parameters);
  if (limit.kind !== 'arithmetic') return [];
  if (limit.operator === '*') {
    return [...fixedFactors(limit.left, parameters), ...fixedFactors(limit.right, parameters)];
  }
  return limit.operator === '/' ? fixedFactors(limit.left, parameters) : [];
}
