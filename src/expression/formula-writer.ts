import { Graph, libraryTypes, type Node, writeFunction, writePower } from '../wasm/index.ts';
import { type Block, FormulaBlocks } from './formula-blocks.ts';
import { type Environment, GraphWriter, type ValueOf } from './graph-writer.ts';
import { ExpressionTooLarge, MAX_NESTED_INTEGRALS } from './limits.ts';
import type { Tree } from './tree.ts';
import { nameAt } from './walk.ts';

/** Most operations of one program. */
const mostOperations = 400_000;

/** Turns trees into operations on single numbers, with calls of what is too long or too free to be written out. */
export class FormulaWriter extends GraphWriter {
  readonly blocks: FormulaBlocks;
  private readonly calleeNumbers = new Map<string, number>();
  private argumentCount = 0;
  private open: Block;

  /** @param hasRows whether a loop over rows stands inside the outermost block */
  constructor(hasRows: boolean) {
    super(new Graph(mostOperations));
    this.blocks = new FormulaBlocks(hasRows);
    this.open = this.blocks.rows;
  }

  /** A value that is given to a block from outside the program. */
  makeArgument(block: Block): Node {
    const argument = this.graph.argument(this.argumentCount++);
    this.blocks.place(argument, block);
    return argument;
  }

  protected override partsOf(tree: Tree): readonly Tree[] {
    if (tree.kind === 'call' && tree.name === 'integrate') return tree.arguments.slice(2);
    if (tree.kind === 'call' && tree.name === 'interpolate') return tree.arguments.slice(1, 2);
    return super.partsOf(tree);
  }

  protected writeName(key: string, environment: Environment): Node {
    const node = environment(key);
    if (node === undefined) throw new Error(`The program has no input "${key}".`);
    return node;
  }

  protected writePower(base: Node, exponent: Node): Node {
    return writePower(this.graph, base, exponent, () => this.callLibrary('pow', [base, exponent]));
  }

  protected writeCall(tree: Tree & { kind: 'call' }, of: ValueOf, environment: Environment): Node {
    const parts = tree.arguments;
    switch (tree.name) {
      case 'integrate':
        return this.graph.call(this.writeIntegrand(tree, environment), [of(parts[2]), of(parts[3])]);
      case 'interpolate': {
        const table = nameAt(tree, 0);
        const order = parts[2]?.kind === 'number' ? parts[2].value : 0;
        const callee = this.numberOf(`curve ${order} ${table}`, { kind: 'curve', table, order });
        return this.graph.call(callee, [of(parts[1])]);
      }
      case 'd':
        throw new Error('Derivatives are worked out before a program is written.');
      default: {
        const values = parts.map(of);
        if (libraryTypes.has(tree.name)) return this.callLibrary(tree.name, values);
        const written = writeFunction(this.graph, tree.name, values);
        if (written === null) throw new Error(`No function is named "${tree.name}".`);
        return written;
      }
    }
  }

  private callLibrary(name: string, values: readonly Node[]): Node {
    return this.graph.call(this.numberOf(`library ${name}`, { kind: 'library', name }), values);
  }

  /** Writes an integrand in a block of its own; returns the number of its integral. */
  private writeIntegrand(tree: Tree & { kind: 'call' }, environment: Environment): number {
    const outside = this.open;
    const block: Block = { depth: outside.depth + 1 };
    if (block.depth - this.blocks.rows.depth > MAX_NESTED_INTEGRALS) {
      throw new ExpressionTooLarge(`More than ${MAX_NESTED_INTEGRALS} integrals stand inside one another.`);
    }
    const argument = this.makeArgument(block);
    const bound = nameAt(tree, 1);
    this.open = block;
    const root = this.write(tree.arguments[0], (key) => (key === bound ? argument : environment(key)));
    this.open = outside;
    return this.blocks.callees.push({ kind: 'integral', block, root }) - 1;
  }

  private numberOf(key: string, callee: (typeof this.blocks.callees)[number]): number {
    const known = this.calleeNumbers.get(key) ?? this.blocks.callees.push(callee) - 1;
    this.calleeNumbers.set(key, known);
    return known;
  }
}
