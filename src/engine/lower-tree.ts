import { type Environment, GraphWriter, namesIn, type Tree, type ValueOf } from '../expression/index.ts';
import { type Graph, isConstant, type Node, type Slot, writeFunction, writePower } from '../wasm/index.ts';
import type { SlotList } from './slots.ts';

/** Thrown where a part that moves has no form on lanes. */
export class NotOnLanes extends Error {
  override readonly name = 'NotOnLanes';
}

/**
 * Turns checked trees into operations on lanes.
 *
 * What depends on parameters alone is put aside, to be worked out once a draw; a division by it becomes a product.
 * Parts of parameters alone that have no form on lanes (integrals, tables) are left to the host.
 */
export class Lowering extends GraphWriter {
  /** Slots that must be filled once a draw, each from its node, in order. */
  readonly hoisted: { readonly slot: Slot; readonly value: Node }[] = [];
  /** Slots that the host must fill, each from its tree. */
  readonly byHost: { readonly slot: Slot; readonly tree: Tree }[] = [];
  private readonly slots: SlotList;
  private readonly parameters: ReadonlySet<string>;
  private readonly settled = new Map<Node, Node>();
  private readonly hostNodes = new Map<Tree, Node>();

  constructor(graph: Graph, slots: SlotList, parameters: ReadonlySet<string>) {
    super(graph);
    this.slots = slots;
    this.parameters = parameters;
  }

  /** As `write`; what does not change along the motion is kept in a slot. */
  lower(root: Tree, environment: Environment, memo: Map<Tree, Node> = new Map()): Node {
    return this.settle(this.write(root, environment, memo));
  }

  /** As `lower`; a condition stays a mask. */
  lowerCondition(root: Tree, environment: Environment): Node {
    return this.writeAny(root, environment, new Map());
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

  protected override partsOf(tree: Tree): readonly Tree[] {
    return this.isForHost(tree) ? [] : super.partsOf(tree);
  }

  protected writeName(key: string, environment: Environment): Node {
    const node = environment(key);
    if (node === undefined) throw new NotOnLanes(`the name ${key}`);
    return node;
  }

  protected override writeQuotient(left: Node, right: Node): Node {
    if (!right.fixed || left.fixed) return super.writeQuotient(left, right);
    return this.graph.multiply(left, this.settle(this.graph.divide(this.graph.constant(1), right)));
  }

  protected writePower(base: Node, exponent: Node): Node {
    return writePower(this.graph, base, exponent);
  }

  protected writeCall(tree: Tree & { kind: 'call' }, of: ValueOf): Node {
    if (this.isForHost(tree)) {
      const known = this.hostNodes.get(tree);
      if (known !== undefined) return known;
      const slot = this.slots.fixed();
      this.byHost.push({ slot, tree });
      const node = this.graph.load(slot);
      this.hostNodes.set(tree, node);
      return node;
    }
    const made = writeFunction(this.graph, tree.name, this.agree(...tree.arguments.map(of)));
    if (made === null) throw new NotOnLanes(`the function ${tree.name}`);
    return made;
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

  /** Where one operand moves, those that do not are taken from their slots. */
  protected override agree(...operands: readonly Node[]): readonly Node[] {
    if (operands.every((operand) => operand.fixed)) return operands;
    return operands.map((operand) => this.settle(operand));
  }
}
