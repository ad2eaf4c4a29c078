import { add, call, choose, divide, multiply, negate, number, ONE, power, subtract, ZERO } from './build.ts';
import type { Tree } from './tree.ts';

/** What may stand as an argument. `variable` and `table` are bare names, `order` is a whole number 0 to 3. */
export type ArgumentKind = 'value' | 'condition' | 'variable' | 'table' | 'order';

/**
 * What a function asks of the dimensions of its arguments and what it gives.
 *
 * - `pure`: all dimensionless, gives a dimensionless value
 * - `alike`: all of one dimension, gives that dimension
 * - `alike-to-pure`: all of one dimension, gives a dimensionless value
 * - `any-to-pure`: any dimension, gives a dimensionless value
 * - `square-root`, `cube-root`: the root of the dimension
 * - `first`: any dimensions, gives that of the first argument
 * - `branches`: a condition, then two values of one dimension
 * - `integral`, `derivative`, `table`: see the checker
 */
export type DimensionRule =
  | 'pure'
  | 'alike'
  | 'alike-to-pure'
  | 'any-to-pure'
  | 'square-root'
  | 'cube-root'
  | 'first'
  | 'branches'
  | 'integral'
  | 'derivative'
  | 'table';

/** What a function is called with. */
export type Signature = Pick<FunctionEntry, 'signature' | 'parameters' | 'optional' | 'repeats'>;

/** One function of the language: everything that any part of the program must know of it. */
export interface FunctionEntry {
  /** As a user writes it, for messages and for the manual. */
  readonly signature: string;
  readonly meaning: string;
  readonly parameters: readonly ArgumentKind[];
  /** How many of the last parameters may be left out. */
  readonly optional?: number;
  /** Whether the last parameter may be repeated. */
  readonly repeats?: boolean;
  readonly dimension: DimensionRule;
  /** Derivative with respect to each argument; null where the form needs more than its arguments' values. */
  readonly partials: ((parts: readonly Tree[], whole: Tree) => readonly Tree[]) | null;
  readonly tex: (parts: readonly string[]) => string;
  /** Arguments that the TeX puts beside something else like the factor of a product, so that sums need brackets. */
  readonly factors?: readonly number[];
  /** The value itself, for the interpreter; null as with `partials`. */
  readonly evaluate: ((...values: readonly number[]) => number) | null;
}

const TWO = number(2);
const square = (part: Tree): Tree => power(part, TWO);
const ofOne = (derivative: (x: Tree, whole: Tree) => Tree) => (parts: readonly Tree[], whole: Tree) => [
  derivative(parts[0], whole),
];
const named = (tex: string) => (parts: readonly string[]) => `${tex}\\left(${parts.join(', ')}\\right)`;

function ordinary(
  name: string,
  meaning: string,
  evaluate: (x: number) => number,
  derivative: (x: Tree, whole: Tree) => Tree,
  change: Partial<FunctionEntry> = {},
): FunctionEntry {
  return {
    signature: `${name}(x)`,
    meaning,
    parameters: ['value'],
    dimension: 'pure',
    partials: ofOne(derivative),
    tex: named(`\\${name}`),
    evaluate,
    ...change,
  };
}

const operator = (name: string) => named(`\\operatorname{${name}}`);

/** ∂/∂a_k of the extreme of several arguments: 1 where a_k is the extreme. Folded pair by pair, first wins a tie. */
function partialsOfExtreme(
  parts: readonly Tree[],
  better: (candidate: Tree, best: Tree) => Tree,
): readonly Tree[] {
  let best = parts[0];
  let partials: Tree[] = [ONE];
  for (const candidate of parts.slice(1)) {
    const selector = better(candidate, best);
    partials = [...partials.map((partial) => choose(selector, ZERO, partial)), choose(selector, ONE, ZERO)];
    best = choose(selector, candidate, best);
  }
  return partials;
}

/**
 * The closed set of functions. Nothing else can be called, and nothing is looked up anywhere but here,
 * by own property.
 */
export const FUNCTIONS: Readonly<Record<string, FunctionEntry>> = Object.freeze({
  sqrt: ordinary('sqrt', 'square root', Math.sqrt, (_x, whole) => divide(ONE, multiply(TWO, whole)), {
    dimension: 'square-root',
    tex: (parts) => `\\sqrt{${parts[0]}}`,
  }),
  cbrt: ordinary(
    'cbrt',
    'cube root',
    Math.cbrt,
    (_x, whole) => divide(ONE, multiply(number(3), square(whole))),
    {
      dimension: 'cube-root',
      tex: (parts) => `\\sqrt[3]{${parts[0]}}`,
    },
  ),
  exp: ordinary('exp', 'e to the power x', Math.exp, (_x, whole) => whole),
  ln: ordinary('ln', 'natural logarithm', Math.log, (x) => divide(ONE, x)),
  log10: ordinary(
    'log10',
    'logarithm to base 10',
    Math.log10,
    (x) => divide(ONE, multiply(x, call('ln', number(10)))),
    {
      tex: named('\\log_{10}'),
    },
  ),
  sin: ordinary('sin', 'sine of an angle in radians', Math.sin, (x) => call('cos', x)),
  cos: ordinary('cos', 'cosine of an angle in radians', Math.cos, (x) => negate(call('sin', x))),
  tan: ordinary('tan', 'tangent of an angle in radians', Math.tan, (_x, whole) => add(ONE, square(whole))),
  asin: ordinary(
    'asin',
    'angle whose sine is x',
    Math.asin,
    (x) => divide(ONE, call('sqrt', subtract(ONE, square(x)))),
    {
      tex: named('\\arcsin'),
    },
  ),
  acos: ordinary(
    'acos',
    'angle whose cosine is x',
    Math.acos,
    (x) => negate(divide(ONE, call('sqrt', subtract(ONE, square(x))))),
    { tex: named('\\arccos') },
  ),
  atan: ordinary('atan', 'angle whose tangent is x', Math.atan, (x) => divide(ONE, add(ONE, square(x))), {
    tex: named('\\arctan'),
  }),
  atan2: {
    signature: 'atan2(y, x)',
    meaning: 'angle of the point (x, y) from the x axis',
    parameters: ['value', 'value'],
    dimension: 'alike-to-pure',
    partials: ([y, x]) => {
      const squares = add(square(x), square(y));
      return [divide(x, squares), negate(divide(y, squares))];
    },
    tex: operator('atan2'),
    evaluate: Math.atan2,
  },
  sinh: ordinary('sinh', 'hyperbolic sine', Math.sinh, (x) => call('cosh', x)),
  cosh: ordinary('cosh', 'hyperbolic cosine', Math.cosh, (x) => call('sinh', x)),
  tanh: ordinary('tanh', 'hyperbolic tangent', Math.tanh, (_x, whole) => subtract(ONE, square(whole))),
  asinh: ordinary(
    'asinh',
    'inverse hyperbolic sine',
    Math.asinh,
    (x) => divide(ONE, call('sqrt', add(square(x), ONE))),
    { tex: operator('arsinh') },
  ),
  acosh: ordinary(
    'acosh',
    'inverse hyperbolic cosine',
    Math.acosh,
    (x) => divide(ONE, multiply(call('sqrt', subtract(x, ONE)), call('sqrt', add(x, ONE)))),
    { tex: operator('arcosh') },
  ),
  atanh: ordinary(
    'atanh',
    'inverse hyperbolic tangent',
    Math.atanh,
    (x) => divide(ONE, subtract(ONE, square(x))),
    {
      tex: operator('artanh'),
    },
  ),
  abs: ordinary('abs', 'absolute value', Math.abs, (x) => call('sign', x), {
    dimension: 'alike',
    tex: (parts) => `\\left|${parts[0]}\\right|`,
  }),
  sign: ordinary('sign', '1, 0 or -1 as x is above, at or below zero', Math.sign, () => ZERO, {
    dimension: 'any-to-pure',
    tex: operator('sgn'),
  }),
  floor: ordinary('floor', 'largest whole number that is not above x', Math.floor, () => ZERO, {
    tex: (parts) => `\\left\\lfloor ${parts[0]}\\right\\rfloor`,
  }),
  min: {
    signature: 'min(a, b, …)',
    meaning: 'least of the values',
    parameters: ['value', 'value'],
    repeats: true,
    dimension: 'alike',
    partials: (parts) => partialsOfExtreme(parts, (candidate, best) => subtract(best, candidate)),
    tex: named('\\min'),
    evaluate: Math.min,
  },
  max: {
    signature: 'max(a, b, …)',
    meaning: 'largest of the values',
    parameters: ['value', 'value'],
    repeats: true,
    dimension: 'alike',
    partials: (parts) => partialsOfExtreme(parts, (candidate, best) => subtract(candidate, best)),
    tex: named('\\max'),
    evaluate: Math.max,
  },
  hypot: {
    signature: 'hypot(a, b, …)',
    meaning: 'square root of the sum of squares',
    parameters: ['value', 'value'],
    repeats: true,
    dimension: 'alike',
    partials: (parts, whole) => parts.map((part) => divide(part, whole)),
    tex: (parts) => `\\sqrt{${parts.map((part) => `\\left(${part}\\right)^{2}`).join(' + ')}}`,
    evaluate: Math.hypot,
  },
  dry: {
    signature: 'dry(limit, v)',
    meaning: 'dry friction: the limit against the sense of v; sticks where v is zero',
    parameters: ['value', 'value'],
    dimension: 'first',
    partials: ([, v]) => [call('sign', v), ZERO],
    factors: [0],
    tex: (parts) => `${parts[0]}\\,\\operatorname{sgn}\\left(${parts[1]}\\right)`,
    evaluate: (limit, v) => limit * Math.sign(v),
  },
  if: {
    signature: 'if(condition, a, b)',
    meaning: 'a where the condition is true, b elsewhere',
    parameters: ['condition', 'value', 'value'],
    dimension: 'branches',
    partials: null,
    tex: ([condition, a, b]) =>
      `\\begin{cases}${a} & \\text{if } ${condition}\\\\${b} & \\text{otherwise}\\end{cases}`,
    evaluate: null,
  },
  integrate: {
    signature: 'integrate(f, s, a, b)',
    meaning: 'integral of f over s from a to b',
    parameters: ['value', 'variable', 'value', 'value'],
    dimension: 'integral',
    partials: null,
    factors: [0],
    tex: ([f, s, a, b]) => `\\int_{${a}}^{${b}} ${f}\\,\\mathrm{d}${s}`,
    evaluate: null,
  },
  d: {
    signature: 'd(f, x)',
    meaning: 'derivative of f with respect to x, everything else held',
    parameters: ['value', 'variable'],
    dimension: 'derivative',
    partials: null,
    tex: ([f, x]) => `\\frac{\\partial}{\\partial ${x}}\\left(${f}\\right)`,
    evaluate: null,
  },
  interpolate: {
    signature: 'interpolate(table, x)',
    meaning:
      'smooth curve through a table of points that keeps its rises and falls; a third argument 1 to 3 asks for its slope and higher derivatives',
    parameters: ['table', 'value', 'order'],
    optional: 1,
    dimension: 'table',
    partials: null,
    tex: ([table, x, order]) =>
      order === undefined ? `${table}\\left(${x}\\right)` : `${table}^{(${order})}\\left(${x}\\right)`,
    evaluate: null,
  },
});

/** How people also write some functions: ISO 80000-2 has arcsin and lg; most programs have log for the natural one. */
const otherNames: ReadonlyMap<string, string> = new Map([
  ['arcsin', 'asin'],
  ['arccos', 'acos'],
  ['arctan', 'atan'],
  ['log', 'ln'],
  ['lg', 'log10'],
]);

/** The name under which a function stands in a tree, from one that people write. */
export function canonicalName(written: string): string {
  return otherNames.get(written) ?? written;
}

/** What a parser must know of `pow(x, y)`, which is x^y and stands as such in a tree. */
export const POWER_CALL: Signature = { signature: 'pow(x, y)', parameters: ['value', 'value'] };

/** The function of this name, or undefined; safe for any text. */
export function functionNamed(name: string): FunctionEntry | undefined {
  return Object.hasOwn(FUNCTIONS, name) ? FUNCTIONS[name] : undefined;
}
