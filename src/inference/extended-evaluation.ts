import type { Tree } from '../expression/index.ts';
import { extendDecimal } from './decimal-extension.ts';
import {
  add,
  type DoubleDouble,
  divide,
  extend,
  multiply,
  negate,
  squareRoot,
  subtract,
} from './double-double.ts';
import type { ExtendedColumn } from './extended-column.ts';
import {
  EXTENDED_PI,
  extendedAcos,
  extendedAsin,
  extendedAtan,
  extendedCubeRoot,
  extendedExp,
  extendedLog,
  extendedLog10,
  extendedPower,
  extendedSinCos,
  extendedSinhCosh,
} from './extended-functions.ts';

const MOST_ROWS = 50_000;

type Evaluator = (row: number) => DoubleDouble;

/**
 * Residuals reading − model computed to about 30 digits and rounded, for fits so close that the rounding of
 * doubles would be all that is left (`preciseResiduals` of fitNonlinear).
 *
 * Readings and literal numbers are taken as the decimals they were written as.
 *
 * @param reading, model trees of parameters, columns and π
 * @param columns n values each
 * @returns a function that writes n residuals; null where a tree holds what is not computed so: conditions,
 * integrals, tables, unknown names
 */
export function prepareResiduals(input: {
  readonly reading: Tree;
  readonly model: Tree;
  readonly parameters: readonly string[];
  readonly columns: ReadonlyMap<string, ArrayLike<number>>;
}): ((parameters: Float64Array, residuals: Float64Array) => void) | null {
  const values = new Float64Array(input.parameters.length);
  // Extended when first asked for: most fits are not close enough to need it.
  let extended: Map<string, readonly DoubleDouble[]> | null = null;
  const columnNamed = (name: string): readonly DoubleDouble[] => {
    extended ??= extendColumns(input.columns);
    return extended.get(name) ?? [];
  };
  const read = (name: string): Evaluator | null => {
    const index = input.parameters.indexOf(name);
    if (index >= 0) return () => extend(values[index]);
    if (input.columns.has(name)) return (row) => columnNamed(name)[row];
    return readConstant(name);
  };
  const reading = prepare(input.reading, read);
  const model = prepare(input.model, read);
  if (reading === null || model === null) return null;
  return (parameters, residuals) => {
    values.set(parameters);
    for (let row = 0; row < residuals.length; row += 1)
      residuals[row] = subtract(reading(row), model(row)).high;
  };
}

/**
 * A column of an expression's values to about 30 digits: for designs so ill-conditioned that the rounding of
 * doubles would decide the fit (`fitLinear` takes such columns).
 *
 * @param tree    of columns and π
 * @param columns n values each, taken as the decimals they were written as
 * @returns null where the tree holds what is not computed so (conditions, integrals, tables, unknown names), and for
 * more than 50 000 rows, where it would take too long: plain columns then serve
 */
export function evaluateExtended(
  tree: Tree,
  columns: ReadonlyMap<string, ArrayLike<number>>,
  n: number,
): ExtendedColumn | null {
  if (n > MOST_ROWS) return null;
  const extended = extendColumns(columns);
  const evaluate = prepare(tree, (name) => {
    const column = extended.get(name);
    return column ? (row) => column[row] : readConstant(name);
  });
  if (evaluate === null) return null;
  const out = { high: new Float64Array(n), low: new Float64Array(n) };
  for (let row = 0; row < n; row += 1) {
    const value = evaluate(row);
    out.high[row] = value.high;
    out.low[row] = value.low;
  }
  return out;
}

function extendColumns(
  columns: ReadonlyMap<string, ArrayLike<number>>,
): Map<string, readonly DoubleDouble[]> {
  return new Map(Array.from(columns, ([name, column]) => [name, Array.from(column, extendDecimal)]));
}

function readConstant(name: string): Evaluator | null {
  return name === 'pi' || name === 'π' ? () => EXTENDED_PI : null;
}

function prepare(tree: Tree, read: (name: string) => Evaluator | null): Evaluator | null {
  switch (tree.kind) {
    case 'number': {
      const value = extendDecimal(tree.value);
      return () => value;
    }
    case 'name':
      return tree.primes === 0 ? read(tree.name) : null;
    case 'negate': {
      const operand = prepare(tree.operand, read);
      return operand && ((row) => negate(operand(row)));
    }
    case 'arithmetic': {
      const left = prepare(tree.left, read);
      const right = prepare(tree.right, read);
      const operate = OPERATIONS[tree.operator];
      return left && right && ((row) => operate(left(row), right(row)));
    }
    case 'call': {
      const compute = Object.hasOwn(FUNCTIONS, tree.name) ? FUNCTIONS[tree.name] : undefined;
      const parts = tree.arguments.map((part) => (compute ? prepare(part, read) : null));
      const known = parts.filter((part) => part !== null);
      if (compute === undefined || known.length < parts.length) return null;
      return (row) => compute(known.map((part) => part(row)));
    }
    default:
      return null;
  }
}

const OPERATIONS = {
  '+': add,
  '-': subtract,
  '*': multiply,
  '/': divide,
  '^': extendedPower,
} as const;

type ExtendedFunction = (parts: readonly DoubleDouble[]) => DoubleDouble;

const FUNCTIONS: Readonly<Record<string, ExtendedFunction>> = {
  sqrt: ([x]) => squareRoot(x),
  cbrt: ([x]) => extendedCubeRoot(x),
  exp: ([x]) => extendedExp(x),
  ln: ([x]) => extendedLog(x),
  log10: ([x]) => extendedLog10(x),
  sin: ([x]) => extendedSinCos(x).sin,
  cos: ([x]) => extendedSinCos(x).cos,
  tan: ([x]) => {
    const { sin, cos } = extendedSinCos(x);
    return divide(sin, cos);
  },
  asin: ([x]) => extendedAsin(x),
  acos: ([x]) => extendedAcos(x),
  atan: ([x]) => extendedAtan(x),
  sinh: ([x]) => extendedSinhCosh(x).sinh,
  cosh: ([x]) => extendedSinhCosh(x).cosh,
  tanh: ([x]) => {
    const { sinh, cosh } = extendedSinhCosh(x);
    return divide(sinh, cosh);
  },
  abs: ([x]) => (x.high < 0 ? negate(x) : x),
  hypot: (parts) => squareRoot(parts.map((x) => multiply(x, x)).reduce(add)),
};
