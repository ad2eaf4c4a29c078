import { isConstant, type Node, nodesBelow } from '../wasm/index.ts';

/**
 * A part of a program that is run as a whole: all of it, the body of a loop over rows, an integrand. Blocks stand
 * inside one another.
 */
export interface Block {
  readonly depth: number;
}

/** What a program calls. */
export type Callee =
  | { readonly kind: 'library'; readonly name: string }
  | { readonly kind: 'curve'; readonly table: string; readonly order: number }
  | { readonly kind: 'integral'; readonly block: Block; readonly root: Node };

/**
 * Finds for each value the outermost block where all that it depends on is known: what depends on scalars only is
 * worked out before a loop over rows, and outside an integrand.
 */
export class FormulaBlocks {
  readonly callees: Callee[] = [];
  readonly outermost: Block = { depth: 0 };
  /** The loop over rows, where there is one; else the outermost. */
  readonly rows: Block;
  private readonly places = new Map<Node, Block>();
  private readonly shared = new Map<Block, Set<Node>>();

  constructor(hasRows: boolean) {
    this.rows = hasRows ? { depth: 1 } : this.outermost;
  }

  /** Says to which block an argument is given. */
  place(argument: Node, block: Block): void {
    this.places.set(argument, block);
  }

  /** Where a value is worked out; only for what `settle` has met. */
  blockOf(node: Node): Block {
    return this.places.get(node) ?? this.outermost;
  }

  /** Values of a block that blocks inside it take from it; only once all is settled. */
  sharedBy(block: Block): ReadonlySet<Node> {
    return this.shared.get(block) ?? new Set();
  }

  /** Finds the blocks of all that a value of some block needs. */
  settle(root: Node, block: Block): void {
    for (const node of nodesBelow([root], (below) => this.places.has(below))) {
      if (this.places.has(node)) continue;
      const callee = node.operation === 'call' ? this.callees[node.value] : undefined;
      const parts = [...node.operands];
      if (callee?.kind === 'integral') {
        this.settle(callee.root, callee.block);
        parts.push(...this.takenInto(callee.root, callee.block));
      }
      const places = parts.map((part) => this.blockOf(part));
      this.places.set(
        node,
        places.reduce((inner, found) => (found.depth > inner.depth ? found : inner), this.outermost),
      );
    }
    for (const node of this.takenInto(root, block)) {
      const from = this.blockOf(node);
      const known = this.shared.get(from) ?? new Set();
      this.shared.set(from, known.add(node));
    }
  }

  /** The values from outer blocks that a value of a block needs, also for integrals inside it. */
  private takenInto(root: Node, block: Block): ReadonlySet<Node> {
    const isOutside = (node: Node): boolean => this.blockOf(node).depth < block.depth;
    const taken = new Set<Node>();
    const roots = [root];
    for (const wanted of roots) {
      for (const node of nodesBelow([wanted], isOutside)) {
        if (isOutside(node)) {
          if (!isConstant(node)) taken.add(node);
          continue;
        }
        const callee = node.operation === 'call' ? this.callees[node.value] : undefined;
        // What an integral inside takes from here must be worked out here.
        if (callee?.kind === 'integral') roots.push(...this.takenInto(callee.root, callee.block));
      }
    }
    return taken;
  }
}
