import { constantValue } from './differentiate.ts';
import { functionNamed } from './functions.ts';
import { ExpressionTooLarge, MAX_NESTED_INTEGRALS } from './limits.ts';
import type { Tree } from './tree.ts';
import { CONSTANTS, childrenOf, keyOf, nameAt, nodesOf } from './walk.ts';

/** A value in the generated program: its text, and the innermost block whose variables it depends on. */
export interface Operand {
  readonly text: string;
  readonly level: number;
}

interface Block {
  readonly lines: string[];
  /** Deepest block outside this one whose values are used inside. */
  deepestOuter: number;
}

/** Where the value of a name is to be had; undefined where the program has no such input. */
export type Bindings = (key: string) => Operand | undefined;

/**
 * Writes a program from trees, one constant for each distinct operation.
 *
 * Operations that are alike are written once, and each stands in the outermost block where its operands are
 * known: what depends on scalars only is worked out before a loop over rows, and outside an integrand.
 *
 * No text of the user reaches the program: names have become numbered variables, numbers are printed from
 * their double, functions come from the closed table. Nothing nests, so depth is no matter either.
 */
export class Emitter {
  /** Tables in the order in which the program numbers them. */
  readonly tables: string[] = [];
  integrals = 0;
  private readonly blocks: Block[] = [];
  private readonly known = new Map<string, Operand>();
  private readonly levels: number;
  private count = 0;

  /** @param levels number of blocks open at the start: 1, or 2 with a loop inside */
  constructor(levels: number) {
    this.levels = levels;
    for (let level = 0; level < levels; level += 1) this.openBlock();
  }

  /** The lines of a block that was open at the start. */
  linesOf(level: number): readonly string[] {
    return this.blocks[level].lines;
  }

  /** Writes what the tree needs and returns its value. */
  emit(root: Tree, bindings: Bindings): Operand {
    const values = new Map<Tree, Operand>();
    const of = (tree: Tree): Operand => {
      const value = values.get(tree);
      if (value === undefined) throw new Error('A node was met before the nodes below it.');
      return value;
    };
    for (const node of nodesOf(root, operandsOf)) values.set(node, this.emitNode(node, of, bindings));
    return of(root);
  }

  /** The value of an operation, as a constant in the block of its deepest operand. */
  define(expression: string, level: number, operands: readonly Operand[] = []): Operand {
    const before = this.known.get(expression);
    if (before !== undefined) return before;
    const block = this.blocks[level];
    for (const operand of operands) this.use(operand, block, level);
    const value = { text: `v${this.count}`, level };
    this.count += 1;
    block.lines.push(`const ${value.text} = ${expression};`);
    this.known.set(expression, value);
    return value;
  }

  private emitNode(node: Tree, of: (tree: Tree) => Operand, bindings: Bindings): Operand {
    switch (node.kind) {
      case 'number':
        return { text: printDouble(node.value), level: 0 };
      case 'name':
        return this.emitName(node, bindings);
      case 'negate':
        return this.operate([of(node.operand)], ([a]) => `-${a}`);
      case 'not':
        return this.operate([of(node.operand)], ([a]) => `!${a}`);
      case 'arithmetic':
        return this.emitArithmetic(node, of);
      case 'compare':
        return this.operate([of(node.left), of(node.right)], ([a, b]) => `${a} ${node.operator} ${b}`);
      case 'logic': {
        const sign = node.operator === 'and' ? '&&' : '||';
        return this.operate([of(node.left), of(node.right)], ([a, b]) => `${a} ${sign} ${b}`);
      }
      case 'choose':
        return this.operate(
          [of(node.selector), of(node.whenTrue), of(node.whenFalse)],
          ([selector, a, b]) => `${selector} > 0 ? ${a} : ${b}`,
        );
      case 'call':
        return this.emitCall(node, of, bindings);
    }
  }

  private emitName(node: Tree & { kind: 'name' }, bindings: Bindings): Operand {
    const constant = CONSTANTS.get(node.name);
    if (constant !== undefined) return { text: printDouble(constant), level: 0 };
    const operand = bindings(keyOf(node));
    if (operand === undefined) throw new Error(`The program has no input "${keyOf(node)}".`);
    return operand;
  }

  private emitArithmetic(node: Tree & { kind: 'arithmetic' }, of: (tree: Tree) => Operand): Operand {
    const left = of(node.left);
    const right = of(node.right);
    if (node.operator !== '^') return this.operate([left, right], ([a, b]) => `${a} ${node.operator} ${b}`);
    const exponent = constantValue(node.right);
    const square = () => this.operate([left], ([a]) => `${a} * ${a}`);
    switch (exponent) {
      case 2:
        return square();
      case 3:
        return this.operate([square(), left], ([a, b]) => `${a} * ${b}`);
      case 4:
        return this.operate([square()], ([a]) => `${a} * ${a}`);
      case -1:
        return this.operate([left], ([a]) => `1 / ${a}`);
      case -2:
        return this.operate([square()], ([a]) => `1 / ${a}`);
      case 0.5:
        return this.operate([left], ([a]) => `Math.sqrt(${a})`);
      default:
        return this.operate([left, right], ([a, b]) => `Math.pow(${a}, ${b})`);
    }
  }

  private emitCall(node: Tree & { kind: 'call' }, of: (tree: Tree) => Operand, bindings: Bindings): Operand {
    const parts = node.arguments;
    switch (node.name) {
      case 'if':
        return this.operate([of(parts[0]), of(parts[1]), of(parts[2])], ([c, a, b]) => `${c} ? ${a} : ${b}`);
      case 'integrate':
        return this.emitIntegral(node, of, bindings);
      case 'interpolate': {
        const table = this.numberTable(nameAt(node, 0));
        const order = parts[2]?.kind === 'number' ? parts[2].value : 0;
        return this.operate([of(parts[1])], ([x]) => `curves[${table}](${x}, ${printDouble(order)})`);
      }
      case 'd':
        throw new Error('Derivatives are worked out before a program is written.');
      default: {
        const js = functionNamed(node.name)?.js;
        if (js === undefined || js === null) throw new Error(`No function is named "${node.name}".`);
        return this.operate(parts.map(of), js);
      }
    }
  }

  private emitIntegral(
    node: Tree & { kind: 'call' },
    of: (tree: Tree) => Operand,
    bindings: Bindings,
  ): Operand {
    const from = of(node.arguments[2]);
    const to = of(node.arguments[3]);
    const level = this.blocks.length;
    if (level - this.levels >= MAX_NESTED_INTEGRALS) {
      throw new ExpressionTooLarge(`More than ${MAX_NESTED_INTEGRALS} integrals stand inside one another.`);
    }
    const variable = { text: `s${this.count}`, level };
    this.count += 1;
    const boundKey = nameAt(node, 1);
    const block = this.openBlock();
    const value = this.emit(node.arguments[0], (key) => (key === boundKey ? variable : bindings(key)));
    this.use(value, block, level);
    this.blocks.pop();
    const body = [...block.lines, `return ${value.text};`].join('\n');
    const integrand = this.define(`(${variable.text}) => {\n${body}\n}`, block.deepestOuter);
    const outer = Math.max(from.level, to.level, integrand.level);
    const index = this.integrals;
    this.integrals += 1;
    return this.define(`integrators[${index}](${integrand.text}, ${from.text}, ${to.text})`, outer, [
      from,
      to,
      integrand,
    ]);
  }

  private operate(operands: readonly Operand[], write: (texts: readonly string[]) => string): Operand {
    const level = Math.max(0, ...operands.map((operand) => operand.level));
    return this.define(write(operands.map((operand) => operand.text)), level, operands);
  }

  private numberTable(name: string): number {
    const index = this.tables.indexOf(name);
    return index >= 0 ? index : this.tables.push(name) - 1;
  }

  private openBlock(): Block {
    const block = { lines: [], deepestOuter: 0 };
    this.blocks.push(block);
    return block;
  }

  private use(operand: Operand, block: Block, level: number): void {
    if (operand.level < level) block.deepestOuter = Math.max(block.deepestOuter, operand.level);
  }
}

/** Nodes below a node whose value is needed where the node itself is worked out. */
function operandsOf(tree: Tree): readonly Tree[] {
  if (tree.kind !== 'call') return childrenOf(tree);
  if (tree.name === 'integrate') return tree.arguments.slice(2);
  if (tree.name === 'interpolate') return tree.arguments.slice(1, 2);
  return tree.arguments;
}

/** A double as JavaScript text that reads back as the same double. */
function printDouble(value: number): string {
  if (Number.isNaN(value)) return 'NaN';
  const text = Object.is(value, -0) ? '-0' : String(value);
  return text.startsWith('-') ? `(${text})` : text;
}
