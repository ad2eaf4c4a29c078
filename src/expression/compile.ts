import { expandDerivatives } from './differentiate.ts';
import { type Bindings, Emitter, type Operand } from './emit.ts';
import { type Integrator, MAX_INTEGRAND_EVALUATIONS, makeIntegrator, type WorkLeft } from './quadrature.ts';
import { shareParts } from './share.ts';
import { type Curve, curveThrough, type Table } from './table.ts';
import type { Tree } from './tree.ts';
import { isCondition } from './walk.ts';

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
 * Compiles trees to one function; like parts are worked out once. A condition gives 1 or 0.
 *
 * Equal to `interpret` to the bit, save for integrals: these are adaptive, to 1e-12 of the integral where
 * possible, with bounded work in each call, NaN where 1e-8 is out of reach.
 *
 * @param trees  values or conditions; primes only where "x'" is among the inputs
 * @param inputs names in the order of the input vector
 * @throws Error where a tree holds a name or table that is not given: check the tree before
 * @throws ExpressionTooLarge where integrals stand too deep inside one another
 */
export function compileFunction(
  trees: readonly Tree[],
  inputs: readonly string[],
  options: CompileOptions = {},
): CompiledFunction {
  const emitter = new Emitter(1);
  const slots = new Map(inputs.map((name, index) => [name, index]));
  const bindings: Bindings = (key) => {
    const slot = slots.get(key);
    return slot === undefined ? undefined : emitter.define(`inputs[${slot}]`, 0);
  };
  const values = shareParts(trees.map(expandDerivatives)).map((tree) => emitValue(emitter, tree, bindings));
  const body = [...emitter.linesOf(0), ...values.map((value, index) => `outputs[${index}] = ${value.text};`)];
  return build<CompiledFunction>(emitter, ['inputs', 'outputs'], body, options);
}

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
  const emitter = new Emitter(2);
  const columns = new Map(columnInputs.map((name, index) => [name, index]));
  const scalars = new Map(scalarInputs.map((name, index) => [name, index]));
  const bindings: Bindings = (key) => {
    const column = columns.get(key);
    if (column !== undefined)
      return emitter.define(`${emitter.define(`columns[${column}]`, 0).text}[row]`, 1);
    const scalar = scalars.get(key);
    return scalar === undefined ? undefined : emitter.define(`scalars[${scalar}]`, 0);
  };
  const value = emitValue(emitter, shareParts([expandDerivatives(tree)])[0], bindings);
  const body = [
    ...emitter.linesOf(0),
    'for (let row = 0; row < out.length; row += 1) {',
    ...(emitter.integrals > 0 ? [RESET_WORK] : []),
    ...emitter.linesOf(1),
    `out[row] = ${value.text};`,
    '}',
  ];
  return build<CompiledColumns>(emitter, ['columns', 'scalars', 'out'], body, options);
}

const RESET_WORK = `work.evaluations = ${MAX_INTEGRAND_EVALUATIONS};`;

function emitValue(emitter: Emitter, tree: Tree, bindings: Bindings): Operand {
  const value = emitter.emit(tree, bindings);
  return isCondition(tree) ? { ...value, text: `${value.text} ? 1 : 0` } : value;
}

/**
 * The only place where text becomes code. The text is the emitter's: see there what it can hold.
 */
function build<Compiled>(
  emitter: Emitter,
  parameters: readonly string[],
  lines: readonly string[],
  options: CompileOptions,
): Compiled {
  const curves: Curve[] = emitter.tables.map((name) => {
    const table = options.tables?.get(name);
    if (table === undefined) throw new Error(`The program has no table "${name}".`);
    return curveThrough(table);
  });
  const work: WorkLeft = { evaluations: MAX_INTEGRAND_EVALUATIONS };
  const integrators: Integrator[] = Array.from({ length: emitter.integrals }, () => makeIntegrator(work));
  const reset = emitter.integrals > 0 ? [RESET_WORK] : [];
  const body = [...reset, ...lines].join('\n');
  const text = `'use strict';\nreturn (${parameters.join(', ')}) => {\n${body}\n};`;
  return new Function('curves', 'integrators', 'work', text)(curves, integrators, work);
}
