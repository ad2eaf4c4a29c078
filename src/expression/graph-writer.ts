import type { Graph, Node } from '../wasm/index.ts';
import type { Tree } from './tree.ts';
import { CONSTANTS, childrenOf, keyOf, nodesOf } from './walk.ts';

/** What a name (with its primes) stands for where a tree is worked out; undefined where it has no value there. */
export type Environment = (key: string) => Node | undefined;

/** The value of a part that was worked out before. */
export type ValueOf = (part: Tree) => Node;

/**
 * Turns checked trees into the typed intermediate form; what is done with names, calls and powers is for those who
 * know where the code will run.
 */
export abstract class GraphWriter {
  readonly graph: Graph;

  constructor(graph: Graph) {
    this.graph = graph;
  }

  /**
   * The value of a tree; a condition gives 1 or 0.
   *
   * @param memo may be shared between trees of one environment
   */
  write(root: Tree, environment: Environment, memo: Map<Tree, Node> = new Map()): Node {
    const { graph: g } = this;
    const value = this.writeAny(root, environment, memo);
    return value.type === 'mask' ? g.select(value, g.constant(1), g.constant(0)) : value;
  }

  /** As `write`; a condition stays a mask. */
  protected writeAny(root: Tree, environment: Environment, memo: Map<Tree, Node>): Node {
    const of: ValueOf = (part) => {
      const node = memo.get(part);
      if (node === undefined) throw new Error('A node was met before the nodes below it.');
      return node;
    };
    for (const tree of nodesOf(root, (node) => (memo.has(node) ? [] : this.partsOf(node)))) {
      if (!memo.has(tree)) memo.set(tree, this.writeNode(tree, of, environment));
    }
    return of(root);
  }

  /** Nodes below a node whose values must be known before its own. */
  protected partsOf(tree: Tree): readonly Tree[] {
    return childrenOf(tree);
  }

  protected abstract writeName(key: string, environment: Environment): Node;
  protected abstract writeCall(tree: Tree & { kind: 'call' }, of: ValueOf, environment: Environment): Node;
  protected abstract writePower(base: Node, exponent: Node): Node;

  protected writeQuotient(left: Node, right: Node): Node {
    const [a, b] = this.agree(left, right);
    return this.graph.divide(a, b);
  }

  /** Operands as they can stand together in one operation. */
  protected agree(...operands: readonly Node[]): readonly Node[] {
    return operands;
  }

  private writeNode(tree: Tree, of: ValueOf, environment: Environment): Node {
    const { graph: g } = this;
    switch (tree.kind) {
      case 'number':
        return g.constant(tree.value);
      case 'name': {
        const constant = CONSTANTS.get(tree.name);
        return constant === undefined ? this.writeName(keyOf(tree), environment) : g.constant(constant);
      }
      case 'negate':
        return g.negate(of(tree.operand));
      case 'not':
        return g.not(of(tree.operand));
      case 'arithmetic':
        return this.writeArithmetic(tree, of(tree.left), of(tree.right));
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
        if (tree.name !== 'if') return this.writeCall(tree, of, environment);
        return g.select(
          of(tree.arguments[0]),
          ...this.agreeTwo(of(tree.arguments[1]), of(tree.arguments[2])),
        );
    }
  }

  private agreeTwo(left: Node, right: Node): readonly [Node, Node] {
    const [a, b] = this.agree(left, right);
    return [a, b];
  }

  private writeArithmetic(tree: Tree & { kind: 'arithmetic' }, left: Node, right: Node): Node {
    const { graph: g } = this;
    if (tree.operator === '/') return this.writeQuotient(left, right);
    const [a, b] = this.agree(left, right);
    switch (tree.operator) {
      case '+':
        return g.add(a, b);
      case '-':
        return g.subtract(a, b);
      case '*':
        return g.multiply(a, b);
      case '^':
        return this.writePower(a, b);
    }
  }
}
