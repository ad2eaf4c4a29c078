import { CONSTANTS, childrenOf, namesIn, nodesOf, type Tree } from '../expression/index.ts';
import { type Graph, isConstant, type Node, type Slot, writeFunction, writePower } from '../wasm/index.ts';
import type { SlotList } from './slots.ts';

/** Thrown where a part that moves has no form on lanes. */
export class NotOnLanes extends Error {
  override readonly name = 'NotOnLanes';
}

/** What a name stands for where a tree is worked out; undefined where it has no value there. */
export type Environment = (name: string) => Node | undefined;

/**
 * Turns checked trees into operations on lanes.
 *
 * What depends on parameters alone is put aside, to be worked out once a draw; a division by it becomes a product.
 * Parts of parameters alone that have no form on lanes (integrals, tables) are left to the host.
 */
export class Lowering {
  /** Slots that must be filled once a draw, each from its node, in order. */
  readonly hoisted: { readonly slot: Slot; readonly value: Node }[] = [];
  /** Slots that the host must fill, each from its tree. */
  readonly byHost: { readonly slot: Slot; readonly tree: Tree }[] = [];
  private readonly graph: Graph;
  private readonly slots: SlotList;
  private readonly parameters: ReadonlySet<string>;
  private readonly settled = new Map<Node, Node>();
  private readonly hostNodes = new Map<Tree, Node>();

  constructor(graph: Graph, slots: SlotList, parameters: ReadonlySet<string>) {
    this.graph = graph;
    this.slots = slots;
    this.parameters = parameters;
  }

  /** The value of a tree; `memo` may be shared between trees of one environment. */
  lower(root: Tree, environment: Environment, memo: Map<Tree, Node> = new Map()): Node {
    return this.settle(this.lowerRaw(root, environment, memo));
  }

  /** As `lower`; what does not change along the motion stays as it is worked out. */
  lowerRaw(root: Tree, environment: Environment, memo: Map<Tree, Node> = new Map()): Node {
    const { graph: g } = this;
    for (const tree of nodesOf(root, (node) => (memo.has(node) ? [] : this.needed(node)))) {
      if (!memo.has(tree)) memo.set(tree, this.lowerNode(tree, memo, environment));
    }
    const value = memo.get(root);
    if (value === undefined) throw new Error('A tree was not worked out.');
    return value.type === 'mask' ? g.select(value, g.constant(1), g.constant(0)) : value;
  }

  /** A node that does not change along the motion, as a look at the slot where it is kept. */
  settle(node: Node): Node {
    if (!node.fixed || isConstant(node) || node.operation === 'load' || node.type !== 'number') return node;
    const known = this.settled.get(node);
    if (known !== undefined) return known;
    const slot = this.slots.fixed();
    this.hoisted.push({ slot, value: node });
    const load = this.graph.load(slot);
    this.settled.set(node, load);
    return load;
  }

  private needed(tree: Tree): readonly Tree[] {
    if (this.isForHost(tree)) return [];
    return childrenOf(tree);
  }

  private isForHost(tree: Tree): boolean {
    if (tree.kind !== 'call') return false;
    if (tree.name !== 'integrate' && tree.name !== 'interpolate' && tree.name !== 'd') return false;
    for (const name of namesIn(tree)) {
      if (!this.parameters.has(name)) {
        throw new NotOnLanes(`${tree.name} of something that changes along the motion`);
      }
    }
    return true;
  }

  private lowerNode(tree: Tree, memo: ReadonlyMap<Tree, Node>, environment: Environment): Node {
    const { graph: g } = this;
    const of = (part: Tree): Node => {
      const node = memo.get(part);
      if (node === undefined) throw new Error('A node was met before the nodes below it.');
      return node;
    };
    switch (tree.kind) {
      case 'number':
        return g.constant(tree.value);
      case 'name': {
        const constant = CONSTANTS.get(tree.name);
        if (constant !== undefined) return g.constant(constant);
        const node = tree.primes === 0 ? environment(tree.name) : undefined;
        if (node === undefined) throw new NotOnLanes(`the name ${tree.name}`);
        return node;
      }
      case 'negate':
        return g.negate(of(tree.operand));
      case 'not':
        return g.not(of(tree.operand));
      case 'arithmetic':
        return this.lowerArithmetic(tree, of(tree.left), of(tree.right));
      case 'compare': {
        const [left, right] = this.agree(of(tree.left), of(tree.right));
        if (tree.operator === '<') return g.less(left, right);
        if (tree.operator === '<=') return g.lessOrEqual(left, right);
        return tree.operator === '>' ? g.less(right, left) : g.lessOrEqual(right, left);
      }
      case 'logic':
        return tree.operator === 'and'
          ? g.and(of(tree.left), of(tree.right))
          : g.or(of(tree.left), of(tree.right));
      case 'choose': {
        const [selector, whenTrue, whenFalse] = this.agree(
          of(tree.selector),
          of(tree.whenTrue),
          of(tree.whenFalse),
        );
        return g.select(g.less(g.constant(0), selector), whenTrue, whenFalse);
      }
      case 'call':
        return this.lowerCall(tree, of);
    }
  }

  private lowerArithmetic(tree: Tree & { kind: 'arithmetic' }, left: Node, right: Node): Node {
    const { graph: g } = this;
    if (tree.operator === '/' && right.fixed && !left.fixed) {
      return g.multiply(left, this.settle(g.divide(g.constant(1), right)));
    }
    const [a, b] = this.agree(left, right);
    switch (tree.operator) {
      case '+':
        return g.add(a, b);
      case '-':
        return g.subtract(a, b);
      case '*':
        return g.multiply(a, b);
      case '/':
        return g.divide(a, b);
      case '^':
        return writePower(g, a, b);
    }
  }

  private lowerCall(tree: Tree & { kind: 'call' }, of: (part: Tree) => Node): Node {
    const { graph: g } = this;
    if (this.isForHost(tree)) {
      const known = this.hostNodes.get(tree);
      if (known !== undefined) return known;
      const slot = this.slots.fixed();
      this.byHost.push({ slot, tree });
      const node = g.load(slot);
      this.hostNodes.set(tree, node);
      return node;
    }
    if (tree.name === 'if') {
      const [whenTrue, whenFalse] = this.agree(of(tree.arguments[1]), of(tree.arguments[2]));
      return g.select(of(tree.arguments[0]), whenTrue, whenFalse);
    }
    const made = writeFunction(g, tree.name, this.agree(...tree.arguments.map(of)));
    if (made === null) throw new NotOnLanes(`the function ${tree.name}`);
    return made;
  }

  /** Where one operand moves, those that do not are taken from their slots. */
  private agree(...operands: readonly Node[]): readonly Node[] {
    if (operands.every((operand) => operand.fixed)) return operands;
    return operands.map((operand) => this.settle(operand));
  }
}
