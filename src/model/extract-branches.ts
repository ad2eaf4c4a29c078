import {
  add,
  call,
  childrenOf,
  choose,
  type Expression,
  multiply,
  namesIn,
  negate,
  nodesOf,
  number,
  subtract,
  type Tree,
  toText,
} from '../expression/index.ts';
import { placeOf } from './place-of.ts';
import type { Truth } from './program.ts';
import {
  branchName,
  findFriction,
  findSwitch,
  holdingName,
  type SwitchList,
  type SwitchUse,
  slipName,
  symbol,
  textOf,
} from './switch-list.ts';

/** Where branches are being taken out of, and which names change along the motion. */
export interface Extraction {
  readonly list: SwitchList;
  /** States and time. */
  readonly moving: ReadonlySet<string>;
  /** The expression at hand, for the places of what is found. */
  readonly expression: Expression;
  readonly words: string;
}

/**
 * The tree with every switching function taken out: `sign`, `abs`, `min`, `max`, `if`, `dry` and choices become
 * plain arithmetic with branch inputs, and what they switch on goes to the list.
 *
 * Inside an integral only what does not hold its variable is taken out; what does stays as it is. So does a
 * choice between values that the parameters alone decide: it cannot change along the motion.
 */
export function extractBranches(extraction: Extraction, tree: Tree): Tree {
  const done = new Map<Tree, Tree>();
  const visit = (node: Tree, bound: ReadonlySet<string>): Tree => {
    const known = bound.size === 0 ? done.get(node) : undefined;
    if (known !== undefined) return known;
    const made = rewrite(extraction, node, bound, visit);
    if (bound.size === 0) done.set(node, made);
    return made;
  };
  const unbound: ReadonlySet<string> = new Set();
  // From below, so that no chain of helpers, however long, is followed by recursion.
  for (const node of nodesOf(tree, outsideIntegrals)) visit(node, unbound);
  return visit(tree, unbound);
}

/** The parts of a node that stand inside no integral which it begins. */
function outsideIntegrals(node: Tree): readonly Tree[] {
  return node.kind === 'call' && node.name === 'integrate' ? node.arguments.slice(2) : childrenOf(node);
}

type Visit = (node: Tree, bound: ReadonlySet<string>) => Tree;

function rewrite(extraction: Extraction, node: Tree, bound: ReadonlySet<string>, visit: Visit): Tree {
  switch (node.kind) {
    case 'number':
    case 'name':
      return node;
    case 'negate':
    case 'not':
      return { ...node, operand: visit(node.operand, bound) };
    case 'arithmetic':
    case 'compare':
    case 'logic':
      return { ...node, left: visit(node.left, bound), right: visit(node.right, bound) };
    case 'choose': {
      const selector = visit(node.selector, bound);
      const whenTrue = visit(node.whenTrue, bound);
      const whenFalse = visit(node.whenFalse, bound);
      if (!moves(extraction, selector, bound)) return { ...node, selector, whenTrue, whenFalse };
      return choose(sideOf(useOf(extraction, selector, node)), whenTrue, whenFalse);
    }
    case 'call':
      return rewriteCall(extraction, node, bound, visit);
  }
}

function rewriteCall(
  extraction: Extraction,
  node: Tree & { kind: 'call' },
  bound: ReadonlySet<string>,
  visit: Visit,
): Tree {
  if (node.name === 'integrate') {
    const [integrand, variable, from, to] = node.arguments;
    const inner = new Set([...bound, variable.kind === 'name' ? variable.name : '']);
    return {
      ...node,
      arguments: [visit(integrand, inner), variable, visit(from, bound), visit(to, bound)],
    };
  }
  if (node.name === 'if') return rewriteIf(extraction, node, bound, visit);
  const parts = node.arguments.map((part) => visit(part, bound));
  const plain: Tree = { ...node, arguments: parts };
  switch (node.name) {
    case 'sign':
    case 'abs': {
      if (!moves(extraction, parts[0], bound)) return plain;
      const side = sideOf(useOf(extraction, parts[0], node.arguments[0]));
      return node.name === 'sign' ? side : multiply(side, parts[0]);
    }
    case 'min':
    case 'max':
      return parts.reduce((best, candidate) => {
        const margin = node.name === 'max' ? subtract(best, candidate) : subtract(candidate, best);
        if (!moves(extraction, margin, bound)) return call(node.name, best, candidate);
        return choose(sideOf(useOf(extraction, margin, margin)), best, candidate);
      });
    case 'dry': {
      const { list, expression, words } = extraction;
      const place = placeOf(expression, words, node);
      const { index, sign } = findFriction(list, parts[0], parts[1], place);
      const share = add(symbol(slipName(index)), symbol(holdingName(index)));
      const value = multiply(parts[0], share);
      return sign > 0 ? value : negate(value);
    }
    default:
      return plain;
  }
}

function rewriteIf(
  extraction: Extraction,
  node: Tree & { kind: 'call' },
  bound: ReadonlySet<string>,
  visit: Visit,
): Tree {
  const [condition, first, second] = node.arguments;
  const whenTrue = visit(first, bound);
  const whenFalse = visit(second, bound);
  if (!moves(extraction, condition, bound)) {
    return { ...node, arguments: [visit(condition, bound), whenTrue, whenFalse] };
  }
  const truth = readTruth(extraction, condition, (part) => visit(part, bound));
  if (truth.kind !== 'side') return choose(selectorOf(truth), whenTrue, whenFalse);
  const side = sideOf({ index: truth.switch, sign: truth.sign });
  return truth.atZero ? choose(negate(side), whenFalse, whenTrue) : choose(side, whenTrue, whenFalse);
}

/** A condition as logic over switches. */
export function extractCondition(extraction: Extraction, condition: Tree): Truth {
  return readTruth(extraction, condition, (part) => extractBranches(extraction, part));
}

function readTruth(extraction: Extraction, condition: Tree, visit: (part: Tree) => Tree): Truth {
  switch (condition.kind) {
    case 'compare': {
      const left = withoutUnit(visit(condition.left));
      const right = withoutUnit(visit(condition.right));
      const above = condition.operator === '>' || condition.operator === '>=';
      const margin = subtract(left, right);
      const { index, sign } = useOf(extraction, margin, condition);
      return {
        kind: 'side',
        switch: index,
        sign: above ? sign : -sign,
        atZero: condition.operator === '>=' || condition.operator === '<=',
      };
    }
    case 'logic':
      return {
        kind: condition.operator,
        left: readTruth(extraction, condition.left, visit),
        right: readTruth(extraction, condition.right, visit),
      };
    case 'not':
      return { kind: 'not', operand: readTruth(extraction, condition.operand, visit) };
    default:
      throw new Error(`${toText(condition)} is not a condition; check it before.`);
  }
}

/** A value that is above zero exactly where the truth is true; a branch of 0 counts as the comparison says. */
function selectorOf(truth: Truth): Tree {
  switch (truth.kind) {
    case 'side': {
      const half = number(truth.atZero ? 0.5 : -0.5);
      const side = sideOf({ index: truth.switch, sign: truth.sign });
      return { kind: 'arithmetic', operator: '+', left: side, right: half, span: side.span };
    }
    case 'and':
      return call('min', selectorOf(truth.left), selectorOf(truth.right));
    case 'or':
      return call('max', selectorOf(truth.left), selectorOf(truth.right));
    case 'not':
      return negate(selectorOf(truth.operand));
  }
}

function useOf(extraction: Extraction, margin: Tree, written: Tree): SwitchUse {
  const { list, expression, words } = extraction;
  return findSwitch(list, margin, textOf(written), placeOf(expression, words, written));
}

function sideOf({ index, sign }: SwitchUse): Tree {
  const branch = symbol(branchName(index));
  return sign > 0 ? branch : negate(branch);
}

/** Whether a value can change along the motion, and does not hold the variable of an integral around it. */
function moves(extraction: Extraction, tree: Tree, bound: ReadonlySet<string>): boolean {
  let found = false;
  for (const name of namesIn(tree)) {
    if (bound.has(name)) return false;
    found ||= extraction.moving.has(name) || name.startsWith('#');
  }
  return found;
}

function withoutUnit(tree: Tree): Tree {
  if (tree.kind === 'number' && tree.unit !== undefined) return { ...number(tree.value), span: tree.span };
  if (tree.kind === 'negate') return { ...tree, operand: withoutUnit(tree.operand) };
  return tree;
}
