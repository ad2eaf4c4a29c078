import {
  type Graph,
  GraphTooLarge,
  instantiate,
  libraryFunction,
  type ModuleFunction,
  type Node,
  scratchMemory,
} from '../wasm/index.ts';
import { expandDerivatives } from './differentiate.ts';
import type { Block } from './formula-blocks.ts';
import {
  calleeName,
  type FormulaTask,
  integrandName,
  rowsName,
  runName,
  writeFormulaModule,
} from './formula-module.ts';
import { FormulaWriter } from './formula-writer.ts';
import type { Environment } from './graph-writer.ts';
import { ExpressionTooLarge } from './limits.ts';
import { MAX_INTEGRAND_EVALUATIONS, makeIntegrator, type WorkLeft } from './quadrature.ts';
import { shareParts } from './share.ts';
import { type Curve, curveThrough, type Table } from './table.ts';
import type { Tree } from './tree.ts';

export interface CompileOptions {
  /** The tables that `interpolate` may name. */
  readonly tables?: ReadonlyMap<string, Table>;
}

/** Values of some trees from values of names; both in the order given at compilation, SI. */
export type CompiledFunction = (inputs: Float64Array, outputs: Float64Array) => void;

/** One tree, row by row: fills all of `out` from columns that are at least as long. */
export type CompiledColumns = (
  columns: readonly Float64Array[],
  scalars: Float64Array,
  out: Float64Array,
) => void;

/**
 * Compiles trees to one function of machine code; like parts are worked out once. A condition gives 1 or 0.
 *
 * Every operation is rounded as IEEE 754 says and the elementary functions are those of the engine, so a value has
 * the same bits everywhere. Integrals are adaptive, to 1e-12 of the integral where possible, with bounded work in
 * each call, NaN where 1e-8 is out of reach. Nothing is evaluated from text: the code can touch a memory of
 * numbers and call curves, integrals and elementary functions, and no more.
 *
 * @param trees  values or conditions; primes only where "x'" is among the inputs
 * @param inputs names in the order of the input vector
 * @throws Error where a tree holds a name or table that is not given: check the tree before
 * @throws ExpressionTooLarge where integrals stand too deep inside one another, or a tree is beyond any lab's size
 */
export function compileFunction(
  trees: readonly Tree[],
  inputs: readonly string[],
  options: CompileOptions = {},
): CompiledFunction {
  return compileOperations(options, (writer) => {
    const places = new Map(inputs.map((name, index) => [name, index]));
    const memo = new Map<Tree, Node>();
    return shareParts(trees.map(expandDerivatives)).map((tree) =>
      writer.write(
        tree,
        (name) => {
          const place = places.get(name);
          return place === undefined ? undefined : writer.input(place);
        },
        memo,
      ),
    );
  });
}

/** What is at hand where a program is put together from trees and plain operations. */
export interface ProgramWriter {
  readonly graph: Graph;
  /** The input at a place of the input vector. */
  input(place: number): Node;
  /**
   * The value of a tree that holds no derivatives.
   *
   * @param memo may be shared between trees of one environment
   */
  write(tree: Tree, environment: Environment, memo?: Map<Tree, Node>): Node;
}

/**
 * As `compileFunction`, for programs that are put together otherwise: `write` returns the values of the outputs.
 *
 * @throws as `compileFunction`
 */
export function compileOperations(
  options: CompileOptions,
  write: (writer: ProgramWriter) => readonly Node[],
): CompiledFunction {
  const writer = new FormulaWriter(false);
  const taken = new InputList(writer, writer.blocks.outermost);
  const values = unlessTooLarge(() =>
    write({
      graph: writer.graph,
      input: (place) => taken.at(place),
      write: (tree, environment, memo) => writer.write(tree, environment, memo),
    }),
  );
  const { places } = taken;
  const first = places.length;
  const count = values.length;
  const { memory, numbers, pages } = scratchMemory(first + count);
  const program = link(
    {
      blocks: writer.blocks,
      addresses: new Map(taken.nodes.map((node, index) => [node, 8 * index])),
      outputs: values.map((value, index) => ({ address: 8 * (first + index), value })),
      column: null,
      pages,
    },
    memory,
    options,
  );
  const run = program.start(runName);
  const { work } = program;
  return (given, outputs) => {
    for (let i = 0; i < first; i++) numbers[i] = given[places[i]];
    work.evaluations = MAX_INTEGRAND_EVALUATIONS;
    run();
    for (let i = 0; i < count; i++) outputs[i] = numbers[first + i];
  };
}

/** Rows that are copied into the memory of the code at a time. */
const rowsAtOnce = 1024;

/**
 * Compiles a tree to work on whole columns; what depends on scalars only is worked out once.
 *
 * @param columnInputs names in the order of the columns
 * @param scalarInputs names in the order of the scalars
 * @throws as `compileFunction`
 */
export function compileColumns(
  tree: Tree,
  columnInputs: readonly string[],
  scalarInputs: readonly string[],
  options: CompileOptions = {},
): CompiledColumns {
  const writer = new FormulaWriter(true);
  const { blocks } = writer;
  const rowInputs = new InputList(writer, blocks.rows);
  const fixedInputs = new InputList(writer, blocks.outermost);
  const columnPlaces = new Map(columnInputs.map((name, index) => [name, index]));
  const scalarPlaces = new Map(scalarInputs.map((name, index) => [name, index]));
  const value = unlessTooLarge(() =>
    writer.write(shareParts([expandDerivatives(tree)])[0], (name) => {
      const column = columnPlaces.get(name);
      if (column !== undefined) return rowInputs.at(column);
      const scalar = scalarPlaces.get(name);
      return scalar === undefined ? undefined : fixedInputs.at(scalar);
    }),
  );
  const fixedCount = fixedInputs.places.length;
  const columnCount = rowInputs.places.length;
  const startOf = (column: number): number => fixedCount + column * rowsAtOnce;
  const { memory, numbers, pages } = scratchMemory(startOf(columnCount + 1));
  const program = link(
    {
      blocks,
      addresses: new Map([
        ...fixedInputs.nodes.map((node, index) => [node, 8 * index] as const),
        ...rowInputs.nodes.map((node, index) => [node, 8 * startOf(index)] as const),
      ]),
      outputs: [],
      column: { address: 8 * startOf(columnCount), value },
      pages,
    },
    memory,
    options,
  );
  const run = program.start(runName);
  const rows = program.start(rowsName);
  const { work, hasIntegrals } = program;
  const begin = startOf(columnCount);
  return (columns, scalars, out) => {
    for (let i = 0; i < fixedCount; i++) numbers[i] = scalars[fixedInputs.places[i]];
    work.evaluations = MAX_INTEGRAND_EVALUATIONS;
    run();
    for (let from = 0; from < out.length; from += rowsAtOnce) {
      const count = Math.min(rowsAtOnce, out.length - from);
      for (const [index, place] of rowInputs.places.entries()) {
        numbers.set(columns[place].subarray(from, from + count), startOf(index));
      }
      if (hasIntegrals) {
        for (let row = 0; row < count; row++) {
          work.evaluations = MAX_INTEGRAND_EVALUATIONS;
          rows(8 * row, 8 * row + 8);
        }
      } else {
        rows(0, 8 * count);
      }
      out.set(numbers.subarray(begin, begin + count), from);
    }
  };
}

/** The inputs that a program really takes, in the order in which it meets them. */
class InputList {
  /** Where each stands among the inputs that are given. */
  readonly places: number[] = [];
  readonly nodes: Node[] = [];
  private readonly known = new Map<number, Node>();
  private readonly writer: FormulaWriter;
  private readonly block: Block;

  constructor(writer: FormulaWriter, block: Block) {
    this.writer = writer;
    this.block = block;
  }

  at(place: number): Node {
    const known = this.known.get(place);
    if (known !== undefined) return known;
    const node = this.writer.makeArgument(this.block);
    this.known.set(place, node);
    this.places.push(place);
    this.nodes.push(node);
    return node;
  }
}

function unlessTooLarge<T>(write: () => T): T {
  try {
    return write();
  } catch (error) {
    if (error instanceof GraphTooLarge) throw new ExpressionTooLarge(error.message);
    throw error;
  }
}

interface Program {
  readonly work: WorkLeft;
  readonly hasIntegrals: boolean;
  /** A function of the program. */
  start(name: string): ModuleFunction;
}

/** Makes a program ready to run: gives it its memory, and what it calls. */
function link(
  task: FormulaTask,
  memory: object & { readonly buffer: ArrayBuffer },
  options: CompileOptions,
): Program {
  const { callees } = task.blocks;
  const work: WorkLeft = { evaluations: MAX_INTEGRAND_EVALUATIONS };
  const integrands: ModuleFunction[] = [];
  const curves = new Map<string, Curve>();
  const functions = callees.map((callee, index): ModuleFunction => {
    if (callee.kind === 'library') return libraryFunction(callee.name);
    if (callee.kind === 'curve') {
      const table = options.tables?.get(callee.table);
      if (table === undefined) throw new Error(`The program has no table "${callee.table}".`);
      const curve = curves.get(callee.table) ?? curveThrough(table);
      curves.set(callee.table, curve);
      return (x) => curve(x, callee.order);
    }
    const integrate = makeIntegrator(work);
    return (from, to) => integrate(integrands[index], from, to);
  });
  const start = instantiate(writeFormulaModule(task), {
    memory,
    functions: Object.fromEntries(functions.map((one, index) => [calleeName(index), one])),
  });
  for (const [index, { kind }] of callees.entries()) {
    if (kind === 'integral') integrands[index] = start(integrandName(index));
  }
  return { work, hasIntegrals: integrands.length > 0, start };
}
