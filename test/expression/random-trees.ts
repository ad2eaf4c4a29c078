import fc from 'fast-check';
import { parseExpression, type Tree } from '../../src/expression/index.ts';

const span = { start: 0, end: 0 };

/** Names that random trees use. */
export const NAMES = ['x', 'v', 'm_c', 'θ₀', 'lambda'] as const;

/** The tree of a text that must parse. */
export function treeOf(text: string): Tree {
  const parsed = parseExpression(text);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.problems[0].message}`);
  return parsed.value.tree;
}

const number: fc.Arbitrary<Tree> = fc
  .oneof(
    fc.integer({ min: 0, max: 20 }),
    fc.double({ min: 0, max: 1e6, noNaN: true, noDefaultInfinity: true }),
    fc.constantFrom(1.9e-6, 0.5, 1e21, 5e-324),
  )
  .map((value) => ({ kind: 'number', value: Math.abs(value), span }));

function nameWith(primes: fc.Arbitrary<number>): fc.Arbitrary<Tree> {
  return fc.record({
    kind: fc.constant('name' as const),
    name: fc.constantFrom(...NAMES),
    primes,
    span: fc.constant(span),
  });
}

const ONE_ARGUMENT = [
  'sqrt',
  'exp',
  'ln',
  'sin',
  'cos',
  'tan',
  'tanh',
  'atan',
  'abs',
  'sign',
  'floor',
  'cbrt',
  'asinh',
];
const TWO_ARGUMENTS = ['atan2', 'min', 'max', 'hypot', 'dry'];

/** What random trees may hold. */
export interface TreeChoice {
  /** Also x', conditions as a whole, derivatives and integrals; such trees are for printing. */
  readonly everything: boolean;
}

/** Random well-formed trees of values and of conditions. */
export function randomTrees({ everything }: TreeChoice): {
  value: fc.Arbitrary<Tree>;
  condition: fc.Arbitrary<Tree>;
} {
  const primes = everything ? fc.integer({ min: 0, max: 4 }) : fc.constant(0);
  const made = fc.letrec<{ value: Tree; condition: Tree }>((tie) => {
    const value = tie('value');
    const condition = tie('condition');
    const arithmetic = fc.record({
      kind: fc.constant('arithmetic' as const),
      operator: fc.constantFrom('+' as const, '-' as const, '*' as const, '/' as const, '^' as const),
      left: value,
      right: value,
      span: fc.constant(span),
    });
    const negate = fc.record({
      kind: fc.constant('negate' as const),
      operand: value,
      span: fc.constant(span),
    });
    const call = (name: string, ...parts: fc.Arbitrary<Tree>[]): fc.Arbitrary<Tree> =>
      fc.tuple(...parts).map((all) => ({ kind: 'call', name, arguments: all, span }));
    const calls = fc.oneof(
      fc.constantFrom(...ONE_ARGUMENT).chain((name) => call(name, value)),
      fc.constantFrom(...TWO_ARGUMENTS).chain((name) => call(name, value, value)),
      call('max', value, value, value),
      call('if', condition, value, value),
    );
    const s: fc.Arbitrary<Tree> = fc.constant({ kind: 'name', name: 's', primes: 0, span });
    const forms = fc.oneof(
      call('integrate', value, s, value, value),
      call('d', value, nameWith(fc.constant(0))),
      call('interpolate', fc.constant<Tree>({ kind: 'name', name: 'A', primes: 0, span }), value),
    );
    const compare = fc.record({
      kind: fc.constant('compare' as const),
      operator: fc.constantFrom('<' as const, '<=' as const, '>' as const, '>=' as const),
      left: value,
      right: value,
      span: fc.constant(span),
    });
    const withUnit: fc.Arbitrary<Tree> = fc
      .tuple(
        fc.double({ min: -1e3, max: 1e3, noNaN: true }),
        fc.constantFrom('m', 'cm', 'kg m^2', '°C', 'J/(kg K)', 'rpm'),
      )
      .map(([size, unit]) => treeOf(`${Object.is(size, -0) ? 0 : size} ${unit}`));
    const compareUnit = fc.record({
      kind: fc.constant('compare' as const),
      operator: fc.constantFrom('<' as const, '>=' as const),
      left: value,
      right: withUnit,
      span: fc.constant(span),
    });
    const logic = fc.record({
      kind: fc.constant('logic' as const),
      operator: fc.constantFrom('and' as const, 'or' as const),
      left: condition,
      right: condition,
      span: fc.constant(span),
    });
    const not = fc.record({ kind: fc.constant('not' as const), operand: condition, span: fc.constant(span) });
    return {
      value: fc.oneof(
        { depthSize: 'small', withCrossShrink: true },
        number,
        nameWith(primes),
        arithmetic,
        arithmetic,
        negate,
        calls,
        ...(everything ? [forms] : []),
      ),
      condition: fc.oneof(
        { depthSize: 'small', withCrossShrink: true },
        compare,
        ...(everything ? [compareUnit] : []),
        logic,
        not,
      ),
    };
  });
  return { value: made.value, condition: made.condition };
}
