import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkCondition,
  checkDimensions,
  checkEquation,
  interpret,
  makeTable,
  parseEquation,
  parseExpression,
  type Scope,
  toText,
} from '../../src/expression/index.ts';
import { formatProblem, type Origin, type Outcome } from '../../src/problem/index.ts';
import { type Dimension, formatDimension, parseUnit } from '../../src/quantity/index.ts';
import { NAMES, randomTrees } from './random-trees.ts';

function dimensionOf(unit: string): Dimension {
  const parsed = parseUnit(unit);
  if (!parsed.ok) throw new Error(parsed.problems[0].message);
  return parsed.value.dimension;
}

const symbols = new Map<string, Dimension>(
  Object.entries({
    t: 's',
    x: 'm',
    v: 'm/s',
    g: 'm/s^2',
    L: 'm',
    R: 'm',
    x_0: 'm',
    m_c: 'kg',
    m_t: 'kg',
    lambda: 'kg/m',
    I: 'kg m^2',
    F_r: 'N',
    'θ₀': 'rad',
    n: '1',
    T: 'K',
  }).map(([name, unit]) => [name, dimensionOf(unit)]),
);
const spring = makeTable({ x: [0, 1], y: [0, 2] }, { x: dimensionOf('m'), y: dimensionOf('N') });
if (!spring.ok) throw new Error('The table of the test is wrong.');

const scope: Scope = {
  dimensionOf: (name) => symbols.get(name),
  names: () => symbols.keys(),
  tables: new Map([['pull', spring.value]]),
  primes: new Set(['x', 'v']),
  time: dimensionOf('s'),
};

const origin: Origin = { placeAt: (offset) => ({ file: 'lab.yaml', line: 31, column: 12 + offset }) };

function parsed(text: string) {
  const outcome = parseExpression(text, origin);
  if (!outcome.ok) throw new Error(outcome.problems[0].message);
  return outcome.value;
}

function told(outcome: Outcome<unknown>): string {
  return outcome.ok ? 'nothing' : outcome.problems.map(formatProblem).join('\n');
}

describe('the dimension of an expression', () => {
  it.each([
    ['lambda*g*x - dry(F_r, v)', 'kg·m/s²'],
    ['(lambda*g*x - dry(F_r, v)) / (m_t + m_c + I/R^2)', 'm/s²'],
    ["(m_t + m_c)*x''", 'kg·m/s²'],
    ["v'", 'm/s²'],
    ['integrate(lambda*g*s, s, x_0, x)', 'kg·m²/s²'],
    ['integrate(integrate(lambda*u, u, 0, s)*s, s, 0, x)', 'kg·m³'],
    ['d(lambda*x^2, x)', 'kg'],
    ['interpolate(pull, x)', 'kg·m/s²'],
    ['interpolate(pull, x, 1)', 'kg/s²'],
    ['sqrt(L/g)', 's'],
    ['cbrt(x^3)', 'm'],
    ['x^(3/2)/x^0.5', 'm'],
    ['x^-2', '1/m²'],
    ['n^x_0^0', '1'],
    ['exp(-x/L)*sin(θ₀)', '1'],
    ['atan2(x, L)', '1'],
    ['sign(v)', '1'],
    ['hypot(x, L, R)', 'm'],
    ['if(x > 0.2 m, lambda*x, 0)', 'kg'],
    ['max(0, x - L)', 'm'],
    ['0 + v', 'm/s'],
    ['2*pi*sqrt(L/g)', 's'],
    ['-3 cm', 'm'],
  ])('%s is %s', (text, dimension) => {
    const found = checkDimensions(parsed(text), scope);
    expect(found.ok ? formatDimension(found.value) : told(found)).toBe(dimension);
  });

  it('of a bare 0 is the one that is expected', () => {
    const found = checkDimensions(parsed('0'), scope, {
      dimension: dimensionOf('m/s'),
      what: 'the start of v',
    });
    expect(found.ok && formatDimension(found.value)).toBe('m/s');
  });
});

describe('a wrong dimension is told with both dimensions, place and advice', () => {
  it.each([
    [
      'x + v',
      'lab.yaml:31:16  "v" has the dimension of speed (m/s), "x" has the dimension of length (m); the parts of a sum must be alike.',
    ],
    [
      'lambda*g*x - F_r*v',
      'lab.yaml:31:25  "F_r*v" has the dimension of power (kg·m²/s³), "lambda*g*x" has the dimension of force (kg·m/s²); the parts of a difference must be alike.',
    ],
    [
      'sin(x)',
      'lab.yaml:31:16  "x" has the dimension of length (m); the argument of sin must be dimensionless.',
    ],
    [
      '2^x',
      'lab.yaml:31:14  The exponent "x" has the dimension of length (m); an exponent must be dimensionless.',
    ],
    [
      'x^n',
      'lab.yaml:31:14  "x" has the dimension of length (m), so its exponent must be a plain number such as 2 or 1/2; here it is "n". Divide the base by a quantity of its own dimension first.',
    ],
    [
      'max(x, 1)',
      'lab.yaml:31:19  "1" is dimensionless, "x" has the dimension of length (m); the arguments of max must be alike. Does 1 lack its unit? That of the other side is m.',
    ],
    [
      'if(x > L, v, x)',
      'lab.yaml:31:25  "x" has the dimension of length (m), "v" has the dimension of speed (m/s); the branches of if must be alike.',
    ],
    [
      'integrate(s, s, x, v)',
      'lab.yaml:31:31  "v" has the dimension of speed (m/s), "x" has the dimension of length (m); the limits of integrate must be alike.',
    ],
    [
      'integrate(x, x, 0, L)',
      'lab.yaml:31:25  "x" is the variable of this integral and already means something else here. Choose a symbol that is not used elsewhere.',
    ],
    [
      'interpolate(pull, v)',
      'lab.yaml:31:30  "v" has the dimension of speed (m/s); the table "pull" is read against what has the dimension of length (m).',
    ],
    ['interpolate(pul, x)', 'lab.yaml:31:24  "pul" is not a table of points here. Did you mean "pull"?'],
    ['lamda*x', 'lab.yaml:31:12  "lamda" is not a symbol here. Did you mean "lambda"?'],
    [
      'q',
      'lab.yaml:31:12  "q" is not a symbol here. The symbols here are t, x, v, g, L, R, x_0, m_c, m_t, lambda, I, F_r, θ₀, n and T.',
    ],
    [
      'constructor',
      'lab.yaml:31:12  "constructor" is not a symbol here. The symbols here are t, x, v, g, L, R, x_0, m_c, m_t, lambda, I, F_r, θ₀, n and T.',
    ],
    [
      "L'",
      `lab.yaml:31:12  "L'" asks for a rate of change in time, and "L" is no state of a model that evolves here. The states are x, v.`,
    ],
    ['x > L', 'lab.yaml:31:12  "x > L" is true or false; a value would be right here.'],
  ])('%s', (text, message) => {
    expect(told(checkDimensions(parsed(text), scope))).toBe(message);
  });

  it('as that of a rate, with what may be missing', () => {
    const expected = { dimension: dimensionOf('m/s^2'), what: 'the rate of v' };
    expect(told(checkDimensions(parsed('lambda*g*x'), scope, expected))).toBe(
      'lab.yaml:31:12  "lambda*g*x" has the dimension of force (kg·m/s²); the rate of v must have the dimension of acceleration (m/s²). Divide by a mass (kg)?',
    );
    expect(
      told(checkDimensions(parsed('v'), scope, { dimension: dimensionOf('m'), what: 'the stop' })),
    ).toContain('Multiply by a time (s)?');
  });

  it('for every fault of an expression, in the order in which they stand', () => {
    const found = checkDimensions(parsed('sin(x) + ln(v)*(x + v) + quux + cos(L)'), scope);
    expect(found.ok ? [] : found.problems.map((one) => one.code)).toEqual([
      'wrong-dimension',
      'wrong-dimension',
      'unlike-dimensions',
      'unknown-symbol',
      'wrong-dimension',
    ]);
  });
});

describe('a condition', () => {
  it.each(['x > 0.20 m and x < 1.05 m', 'v >= 0', 'not (T < 20 °C) or θ₀ < 5 degree', 'x/L > 0.95'])(
    '%s is in order',
    (text) => {
      expect(told(checkCondition(parsed(text), scope))).toBe('nothing');
    },
  );

  it.each([
    [
      'x > 0.95',
      'lab.yaml:31:16  "0.95" is dimensionless, "x" has the dimension of length (m); the sides of a comparison must be alike. Does 0.95 lack its unit? That of the other side is m.',
    ],
    [
      'x > 2 s and v < 1 kg',
      'lab.yaml:31:16  "2 s" has the dimension of time (s), "x" has the dimension of length (m); the sides of a comparison must be alike.\nlab.yaml:31:28  "1 kg" has the dimension of mass (kg), "v" has the dimension of speed (m/s); the sides of a comparison must be alike.',
    ],
    [
      'x > 2 L',
      'lab.yaml:31:16  "2 L" has the dimension of volume (m³), "x" has the dimension of length (m); the sides of a comparison must be alike. If L is meant as the symbol, multiply by it with *.',
    ],
    ['x', 'lab.yaml:31:12  "x" is a value; a condition would be right here, such as x > 0.20 m.'],
  ])('%s is told', (text, message) => {
    expect(told(checkCondition(parsed(text), scope))).toBe(message);
  });
});

describe('an equation', () => {
  function checked(text: string) {
    const equation = parseEquation(text, origin);
    if (!equation.ok) throw new Error(equation.problems[0].message);
    return checkEquation(equation.value, scope);
  }

  it('has one dimension', () => {
    const found = checked("(m_t + m_c)*x'' = lambda*g*x");
    expect(found.ok && formatDimension(found.value)).toBe('kg·m/s²');
    expect(told(checked('0 = v - x/t'))).toBe('nothing');
  });

  it('with unlike sides is told at its right side', () => {
    expect(told(checked('1/2*m_c*v^2 = m_c*g'))).toBe(
      'lab.yaml:31:26  The left side has the dimension of energy or torque (kg·m²/s²), the right side has the dimension of force (kg·m/s²); the sides of an equation must be alike.',
    );
  });

  it('tells the faults of both sides', () => {
    const found = checked('sin(x) = ln(v)');
    expect(found.ok ? 0 : found.problems.length).toBe(2);
  });
});

describe('an expression that passes', () => {
  const { value } = randomTrees({ everything: false });
  const point = fc.record(
    Object.fromEntries(NAMES.map((name) => [name, fc.double({ min: 0.1, max: 3, noNaN: true })])),
  );
  /** Number of new units in an old one; powers of two, so that most changes are exact. */
  const sizes = [2, 4, 8, 1, 1, 1, 1];
  const scaleOf = (dimension: Dimension) =>
    dimension.reduce((scale, exponent, index) => scale * sizes[index] ** exponent, 1);

  it('means the same in every system of units', () => {
    let passed = 0;
    fc.assert(
      fc.property(value, point, (tree, at) => {
        const found = checkDimensions(parsed(toText(tree)), scope);
        if (!found.ok) return;
        const here = interpret(tree, (name) => at[name]);
        const there = interpret(tree, (name) => at[name] * scaleOf(symbols.get(name) ?? []));
        const wanted = here * scaleOf(found.value);
        if (![here, there, wanted].every(Number.isFinite)) return;
        passed += 1;
        expect(Math.abs(there - wanted)).toBeLessThanOrEqual(1e-9 * Math.abs(wanted) + 1e-12);
      }),
      { numRuns: 6000, seed: 31 },
    );
    expect(passed).toBeGreaterThan(300);
  });
});
