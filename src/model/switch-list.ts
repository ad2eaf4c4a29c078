import {
  childrenOf,
  ExpressionTooLarge,
  namesIn,
  nodesOf,
  sameTree,
  simplify,
  subtract,
  type Tree,
  toText,
} from '../expression/index.ts';
import { listNames, type Place } from '../problem/index.ts';

/** A switching function, and which of its sides a use means: +1 where it is positive. */
export interface SwitchUse {
  readonly index: number;
  readonly sign: number;
}

/** A switching function as found in the model; its tree may hold branches of others, found before it. */
export interface FoundSwitch {
  readonly text: string;
  readonly place: Place;
  readonly margin: Tree;
}

/** One `dry(limit, velocity)` of the model; the limit may hold branches. */
export interface FoundLimit {
  readonly text: string;
  readonly place: Place;
  readonly limit: Tree;
}

/** All dry friction on one velocity, which may hold branches: it slips, sticks and lets go as one. */
export interface FoundFriction {
  readonly velocity: Tree;
  readonly limits: FoundLimit[];
}

/** Names of the branch inputs: no user can write them, so they never clash with a symbol. */
export const branchName = (index: number): string => `#branch ${index}`;
export const slipName = (index: number): string => `#slip ${index}`;
export const holdingName = (index: number): string => `#holding ${index}`;
export const constantName = (index: number): string => `#constant ${index}`;

export function symbol(name: string): Tree {
  return { kind: 'name', name, primes: 0, span: { start: 0, end: 0 } };
}

/** Each switching function is looked at in every step; chains of helpers that switch would hold one another. */
const mostSwitches = 64;

/** The switches and dry frictions of a model, each kept once however often it is used. */
export interface SwitchList {
  readonly switches: FoundSwitch[];
  readonly frictions: FoundFriction[];
}

/** The switch with this function, or with its negative; a new one where there is none. */
export function findSwitch(list: SwitchList, margin: Tree, text: string, place: Place): SwitchUse {
  const wanted = simplify(margin);
  const turned = turn(wanted);
  for (const [index, known] of list.switches.entries()) {
    if (sameTree(known.margin, wanted)) return { index, sign: 1 };
    if (sameTree(known.margin, turned)) return { index, sign: -1 };
  }
  if (list.switches.length >= mostSwitches) {
    throw new ExpressionTooLarge(
      `they switch at more than ${mostSwitches} places (sign, abs, min, max, if, conditions).`,
    );
  }
  list.switches.push({ text, place, margin: wanted });
  return { index: list.switches.length - 1, sign: 1 };
}

/** The dry friction on this velocity, or on its negative, with this limit among its limits; new where there is none. */
export function findFriction(list: SwitchList, limit: Tree, velocity: Tree, place: Place): SwitchUse {
  const wanted = simplify(velocity);
  const known = frictionWithVelocity(list, wanted);
  const use = known ?? { index: list.frictions.push({ velocity: wanted, limits: [] }) - 1, sign: 1 };
  const { limits } = list.frictions[use.index];
  const found = simplify(limit);
  if (!limits.some((other) => sameTree(other.limit, found))) {
    limits.push({ text: `dry(${textOf(limit)}, ${textOf(velocity)})`, place, limit: found });
  }
  return use;
}

/** Parts of an expression that a sentence can hold. */
const mostParts = 80;

/** An expression as text for a sentence; what is too long, because helpers are put in, is told by its symbols. */
export function textOf(tree: Tree): string {
  const sizes = new Map<Tree, number>();
  for (const node of nodesOf(tree)) {
    sizes.set(
      node,
      childrenOf(node).reduce((sum, child) => sum + (sizes.get(child) ?? 1), 1),
    );
  }
  if ((sizes.get(tree) ?? 1) <= mostParts) return toText(tree);
  return `an expression of ${listNames([...namesIn(tree)].sort())}`;
}

/** The dry friction whose velocity is a switching function, or its negative. */
export function frictionWithVelocity(list: SwitchList, margin: Tree): SwitchUse | undefined {
  const turned = turn(margin);
  for (const [index, { velocity }] of list.frictions.entries()) {
    if (sameTree(velocity, margin)) return { index, sign: 1 };
    if (sameTree(velocity, turned)) return { index, sign: -1 };
  }
  return undefined;
}

/** The negative of a switching function, in the form in which it would be written the other way round. */
function turn(margin: Tree): Tree {
  return margin.kind === 'arithmetic' && margin.operator === '-'
    ? subtract(margin.right, margin.left)
    : simplify({ kind: 'negate', operand: margin, span: margin.span });
}
