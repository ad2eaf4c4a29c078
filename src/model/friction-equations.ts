import {
  differentiate,
  namesIn,
  number,
  simplify,
  substitute,
  type Tree,
  totalTimeDerivative,
} from '../expression/index.ts';
import { type Problem, problem } from '../problem/index.ts';
import { type FoundFriction, holdingName, slipName } from './switch-list.ts';

/** What the holding values of q dry frictions must solve. */
export interface FrictionEquations {
  /** Rate of each velocity, taken without holding values. */
  readonly free: readonly Tree[];
  /** Their q × q derivatives by the holding values, row-major. */
  readonly influence: readonly Tree[];
  readonly limits: readonly Tree[];
}

/**
 * The equations by which sticking frictions hold: the rate of each velocity, linear in the holding values.
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
  const used = new Set([...rates.values()].flatMap((rate) => [...namesIn(rate)]));
  const moving = new Set([...rates.keys(), 't']);
  const free: Tree[] = [];
  const influence: Tree[] = [];
  for (const [index, { text, place, velocity, limit }] of frictions.entries()) {
    const before = problems.length;
    const tell = (code: string, message: string, tryThis?: string): void => {
      if (problems.length === before) problems.push(problem(code, place, message, tryThis));
    };
    const inside = [...namesIn(velocity), ...namesIn(limit)];
    if (!used.has(holdings[index])) {
      tell(
        'friction-in-no-rate',
        `${text} stands in no rate, so nothing says what it holds against.`,
        'Let it stand in the rate of its velocity too.',
      );
    }
    if (![...namesIn(velocity)].some((name) => moving.has(name))) {
      tell(
        'friction-without-velocity',
        `The second argument of ${text} does not change with the motion; it must be the velocity that the friction works against.`,
      );
    }
    if (inside.some((name) => holdings.includes(name) || frictions.some((_, k) => name === slipName(k)))) {
      tell(
        'friction-of-friction',
        `The limit or velocity of ${text} depends on a dry friction; it may depend on states, quantities and the time only.`,
      );
    }
    const rate = simplify(totalTimeDerivative(velocity, rates));
    free.push(simplify(substitute(rate, none)));
    for (const name of holdings) {
      const by = simplify(differentiate(rate, name));
      if ([...namesIn(by)].some((other) => holdings.includes(other))) {
        tell(
          'friction-not-linear',
          `The rate of the velocity of ${text} does not change in step with it; a friction force must enter as a sum.`,
        );
      }
      influence.push(by);
    }
  }
  return { free, influence, limits: frictions.map(({ limit }) => limit) };
}

/** The product of the parameter-only factors of a limit: where it is 0 the friction is off. */
export function fixedFactors(limit: Tree, parameters: ReadonlySet<string>): readonly Tree[] {
  const names = [...namesIn(limit)];
  if (names.length > 0 && names.every((name) => parameters.has(name))) return [limit];
  if (limit.kind === 'negate') return fixedFactors(limit.operand, parameters);
  if (limit.kind !== 'arithmetic') return [];
  if (limit.operator === '*') {
    return [...fixedFactors(limit.left, parameters), ...fixedFactors(limit.right, parameters)];
  }
  return limit.operator === '/' ? fixedFactors(limit.left, parameters) : [];
}
