import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conditionMargin,
  differentiate,
  interpret,
  isCondition,
  namesIn,
  resolvePrimes,
  sameTree,
  simplify,
  substitute,
  toText,
  totalTimeDerivative,
} from '../../src/expression/index.ts';
import { NAMES, randomTrees, treeOf } from './random-trees.ts';

describe('a derivative', () => {
  it.each([
    ['x^3', '3*x^2'],
    ['x^2', '2*x'],
    ['x', '1'],
    ['v', '0'],
    ["x'", '0'],
    ['5*x + v', '5'],
    ['1/x', '-(1/x/x)'],
    ['x^-1', '-x^-2'],
    ['x^0.5', '0.5*x^-0.5'],
    ['x^n', 'n*x^(n - 1)'],
    ['2^x', '2^x*ln(2)'],
    ['exp(x)', 'exp(x)'],
    ['sin(x)', 'cos(x)'],
    ['abs(x)', 'sign(x)'],
    ['sign(x)', '0'],
    ['dry(x, v)', 'sign(v)'],
    ['dry(F, x)', '0'],
    ['if(x > 1, x^2, x)', 'if(x > 1, 2*x, 1)'],
    ['if(x > 1, 2, 3)', '0'],
    ['max(x, v)', 'if(v - x > 0, 0, 1)'],
    ['min(x, v)', 'if(x - v > 0, 0, 1)'],
    ['interpolate(A, x^2)', 'interpolate(A, x^2, 1)*(2*x)'],
    ['interpolate(x, v)', '0'],
    ['d(x^3, x)', '3*(2*x)'],
    ['d(v*x^2, v)', '2*x'],
    ['pi*x', 'pi'],
  ])('of %s by x is %s', (text, derivative) => {
    expect(toText(differentiate(treeOf(text), 'x'))).toBe(derivative);
  });

  it('agrees with differences of the function, for random expressions', () => {
    const { value } = randomTrees({ everything: false });
    const point = fc.record(
      Object.fromEntries(NAMES.map((name) => [name, fc.double({ min: 0.1, max: 3, noNaN: true })])),
    );
    let compared = 0;
    fc.assert(
      fc.property(value, point, (tree, at) => {
        const along = (shift: number) => interpret(tree, (name) => (name === 'x' ? at.x + shift : at[name]));
        const slopeOver = (h: number) =>
          (45 * (along(h) - along(-h)) -
            9 * (along(2 * h) - along(-2 * h)) +
            (along(3 * h) - along(-3 * h))) /
          (60 * h);
        const [wide, narrow] = [slopeOver(1e-3), slopeOver(5e-4)];
        const exact = interpret(differentiate(tree, 'x'), (name) => at[name]);
        const size = Math.max(1, Math.abs(along(0)), Math.abs(wide));
        // Only where the differences themselves have settled: no corner, jump or edge of the domain nearby.
        if (!(Math.abs(wide - narrow) < 1e-8 * size) || !Number.isFinite(exact) || size > 1e6) return;
        compared += 1;
        expect(Math.abs(exact - narrow)).toBeLessThan(1e-6 * size);
      }),
      { numRuns: 4000, seed: 21 },
    );
    expect(compared).toBeGreaterThan(1000);
  });
});

describe('substitution', () => {
  it('replaces all names at once', () => {
    const swapped = substitute(
      treeOf('x - 2*y'),
      new Map([
        ['x', treeOf('y')],
        ['y', treeOf('x')],
      ]),
    );
    expect(toText(swapped)).toBe('y - 2*x');
  });

  it('keeps the variable of an integral apart from a symbol of the same name', () => {
    const tree = treeOf('integrate(a*s, s, 0, a)');
    expect(toText(substitute(tree, new Map([['a', treeOf('s + 1')]])))).toBe(
      'integrate((s + 1)*s_1, s_1, 0, s + 1)',
    );
    expect(toText(substitute(tree, new Map([['s', treeOf('7')]])))).toBe('integrate(a*s, s, 0, a)');
  });

  it('takes a derivative through a helper that hides the variable', () => {
    const tree = substitute(treeOf('d(energy, x)'), new Map([['energy', treeOf('1/2*k*x^2')]]));
    expect(interpret(tree, (name) => ({ k: 3, x: 2 })[name] ?? Number.NaN)).toBe(6);
  });

  it('takes a derivative before its variable is replaced', () => {
    const tree = substitute(treeOf('d(x^2, x)'), new Map([['x', treeOf('y + 1')]]));
    expect(toText(tree)).toBe('2*(y + 1)');
  });

  it('leaves names of tables, constants and primed names alone', () => {
    const tree = treeOf("interpolate(x, x) + pi + x'");
    expect(
      toText(
        substitute(
          tree,
          new Map([
            ['x', treeOf('y')],
            ['pi', treeOf('3')],
          ]),
        ),
      ),
    ).toBe("interpolate(x, y) + pi + x'");
  });
});

describe('the free names of a tree', () => {
  it.each([
    ['integrate(lambda*g*s, s, x_0, x)', ['lambda', 'g', 'x_0', 'x']],
    ['integrate(s, s, 0, s)', ['s']],
    ['d(f, x)', ['f', 'x']],
    ["x'' + pi", ['x']],
    ['interpolate(A, u)', ['u']],
    ['if(a > 1 m, b, c)', ['a', 'b', 'c']],
  ])('%s are %j', (text, names) => {
    expect([...namesIn(treeOf(text))].sort()).toEqual([...names].sort());
  });
});

describe('the derivative along a motion', () => {
  const rates = new Map([
    ['x', treeOf('v')],
    ['v', treeOf('-k/m*x - c/m*v')],
  ]);

  it.each([
    ['x', 'v'],
    ["x'", '-k/m*x - c/m*v'],
    ['x^2', '2*x*v'],
    ['t*x', 'x + t*v'],
    ['k', '0'],
  ])('of %s is %s', (text, derivative) => {
    const found = totalTimeDerivative(treeOf(text), rates);
    const at = (name: string) => ({ x: 0.3, v: -0.7, k: 2, m: 0.4, c: 0.1, t: 1.9 })[name] ?? Number.NaN;
    const wanted = interpret(treeOf(derivative), at);
    expect(interpret(found, at)).toBeCloseTo(wanted, 12);
  });

  it("of the energy is what the damper takes: -c v'^2", () => {
    const power = totalTimeDerivative(treeOf("1/2*m*x'^2 + 1/2*k*x^2"), rates);
    const at = (name: string) => ({ x: 0.3, v: -0.7, k: 2, m: 0.4, c: 0.1 })[name] ?? Number.NaN;
    expect(interpret(power, at)).toBeCloseTo(-0.1 * 0.7 ** 2, 14);
  });

  it("resolves x' to x'''' by the rates", () => {
    const at = (name: string) => ({ x: 1, v: 0, k: 4, m: 1, c: 0 })[name] ?? Number.NaN;
    // x = cos 2t at t = 0: derivatives 0, -4, 0, 16.
    const found = ["x'", "x''", "x'''", "x''''"].map((text) =>
      interpret(resolvePrimes(treeOf(text), rates), at),
    );
    expect(found.map((value) => value + 0)).toEqual([0, -4, 0, 16]);
  });

  it('keeps primes of names that have no rate', () => {
    expect(toText(resolvePrimes(treeOf("y' + x'"), rates))).toBe("y' + v");
  });
});

describe('simplifying', () => {
  it.each([
    ['0 + x*1', 'x'],
    ['x - 0/y', 'x'],
    ['x^1 + y^0', 'x + 1'],
    ['--x', 'x'],
    ['x - -y', 'x + y'],
    ['(-x)*(-y)', 'x*y'],
    ['2*3*x', '6*x'],
    ['1/2*x', '0.5*x'],
    ['1/3*x', '1/3*x'],
    ['if(x > 1, y + 0, y)', 'y'],
    ['integrate(0*s, s, a, b)', '0'],
    ['x*(1 - sqrt(0)/y)', 'x'],
    ['x*(1 + 2*0^2)', 'x'],
    ['0^0*x', 'x'],
    ['0^-1', '0^-1'],
    ['sqrt(9)*x', '3*x'],
    ['sqrt(2)*x', 'sqrt(2)*x'],
    ['cos(0)*x + ln(1)', 'x'],
    ['x*exp(1e-20)', 'x*exp(1e-20)'],
    ['x*tanh(50)', 'x*tanh(50)'],
    ['x + min(3, 2)', 'x + 2'],
    ['ln(0)*x', 'ln(0)*x'],
    ['integrate(f, s, a, a)', '0'],
    ['sin(x + 0)', 'sin(x)'],
    ['x + y', 'x + y'],
  ])('%s gives %s', (text, simple) => {
    expect(toText(simplify(treeOf(text)))).toBe(simple);
  });

  it('twice is simplifying once', () => {
    const { value } = randomTrees({ everything: true });
    fc.assert(
      fc.property(value, (tree) => {
        const once = simplify(tree);
        expect(sameTree(simplify(once), once)).toBe(true);
      }),
      { numRuns: 500, seed: 3 },
    );
  });
});

describe('the margin of a condition', () => {
  it.each([
    ['x > a', 'x - a'],
    ['x < a', 'a - x'],
    ['x > a and v >= b', 'min(x - a, v - b)'],
    ['x > a or v < b', 'max(x - a, b - v)'],
    ['not x > a', '-(x - a)'],
  ])('%s is %s', (text, margin) => {
    expect(toText(conditionMargin(treeOf(text)))).toBe(margin);
  });

  it('is above zero where the condition is true, below where it is false', () => {
    const { condition } = randomTrees({ everything: false });
    const point = fc.record(
      Object.fromEntries(NAMES.map((name) => [name, fc.double({ min: -3, max: 3, noNaN: true })])),
    );
    fc.assert(
      fc.property(condition, point, (tree, at) => {
        expect(isCondition(tree)).toBe(true);
        const margin = interpret(conditionMargin(tree), (name) => at[name]);
        fc.pre(Number.isFinite(margin) && margin !== 0);
        expect(interpret(tree, (name) => at[name])).toBe(margin > 0 ? 1 : 0);
      }),
      { numRuns: 1000, seed: 4 },
    );
  });
});
