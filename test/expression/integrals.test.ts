import { describe, expect, it } from 'vitest';
import {
  compileColumns,
  compileFunction,
  differentiate,
  interpret,
  toText,
} from '../../src/expression/index.ts';
import pendulum from '../published/pendulum-period.json' with { type: 'json' };
import { treeOf } from './random-trees.ts';

function integral(text: string, point: Readonly<Record<string, number>> = {}): number {
  const out = new Float64Array(1);
  compileFunction([treeOf(text)], Object.keys(point))(Float64Array.from(Object.values(point)), out);
  return out[0];
}

function relativeError(found: number, value: number): number {
  return Math.abs(found - value) / Math.abs(value);
}

describe('integrals', () => {
  // Period over that of small swings is (2/π) K(sin(amplitude/2)); K after Abramowitz and Stegun, chapter 17.
  it.each(pendulum.table)(
    'give the period of a pendulum at $amplitude_deg degrees: $ratio',
    ({ amplitude_deg, ratio }) => {
      const k = Math.sin((amplitude_deg * Math.PI) / 360);
      expect(
        relativeError(integral('2/pi*integrate(1/sqrt(1 - k^2*sin(s)^2), s, 0, pi/2)', { k }), ratio),
      ).toBeLessThan(2e-14);
    },
  );

  it.each([
    ['integrate(3*s^2, s, a, b)', 2 ** 3 - (-1) ** 3, 'polynomial'],
    ['integrate(exp(s), s, a, b)', Math.E ** 2 - 1 / Math.E, 'exponential'],
    ['integrate(1/(1 + s^2), s, a, b)', Math.atan(2) + Math.PI / 4, 'arc tangent'],
    ['integrate(exp(-s^2), s, 0, b)', 0.8820813907624216, 'error function, 40 digits computed by mpmath'],
    [
      'integrate(if(s > 0, sin(s)/s, 1), s, 0, 3)',
      1.8486525279994683,
      'sine integral Si(3), 40 digits computed by mpmath',
    ],
    ['integrate(abs(s - 1/3), s, a, b)', (16 / 9 + 25 / 9) / 2, 'corner inside'],
    ['integrate(if(s > 1/3, 2, 1), s, a, b)', 4 / 3 + (2 * 5) / 3, 'jump inside'],
    ['integrate(sqrt(s), s, 0, b)', (2 / 3) * 2 ** 1.5, 'root at an end'],
    ['integrate(1/sqrt(s), s, 0, b)', 2 * Math.SQRT2, 'pole of order 1/2 at an end'],
    ['integrate(ln(s), s, 0, 1)', -1, 'logarithm at an end'],
    ['integrate(cos(100*s), s, 0, 1)', Math.sin(100) / 100, 'sixteen waves'],
    ['integrate(1/(s^2 + 1e-6), s, -1, 1)', 2000 * Math.atan(1000), 'peak a thousandth wide'],
    ['integrate(s, s, b, a)', -1.5, 'limits the other way'],
    ['integrate(exp(s), s, a, a)', 0, 'equal limits'],
  ])('%s = %f (%s)', (text, value) => {
    const found = integral(text, { a: -1, b: 2 });
    if (value === 0) expect(found).toBe(0);
    else expect(relativeError(found, value)).toBeLessThan(1e-11);
  });

  it('agree with the other rule of the interpreter', () => {
    for (const text of [
      'integrate(sqrt(1 + s^3)*exp(-x*s), s, 0, 2)',
      'integrate(1/sqrt(1 - 0.9*sin(s)^2), s, 0, pi/2)',
    ]) {
      expect(
        relativeError(
          integral(text, { x: 0.7 }),
          interpret(treeOf(text), () => 0.7),
        ),
      ).toBeLessThan(1e-12);
    }
  });

  it('inside integrals: the moment of a triangle', () => {
    const text = 'integrate(integrate(x*s*u, u, 0, s), s, 0, x)';
    // x·∫ s·s²/2 ds = x·x⁴/8
    expect(relativeError(integral(text, { x: 1.5 }), 1.5 ** 5 / 8)).toBeLessThan(1e-12);
    expect(
      relativeError(
        interpret(treeOf(text), () => 1.5),
        1.5 ** 5 / 8,
      ),
    ).toBeLessThan(1e-11);
  });

  it('are worked out for each row of a column', () => {
    const out = new Float64Array(3);
    const work = compileColumns(treeOf('integrate(g*s + integrate(c, u, 0, s), s, 0, x)'), ['x'], ['g', 'c']);
    work([Float64Array.of(0, 1, 2)], Float64Array.of(10, 4), out);
    expect([...out]).toEqual([0, expect.closeTo(7, 12), expect.closeTo(28, 12)]);
  });

  it('that do not exist are not a number', () => {
    expect(integral('integrate(1/s, s, 0, 1)')).toBeNaN();
    expect(integral('integrate(1/s^2, s, 0, 1)')).toBeNaN();
    expect(integral('integrate(s, s, 0, b)', { b: Number.POSITIVE_INFINITY })).toBeNaN();
    expect(integral('integrate(s, s, 0, b)', { b: Number.NaN })).toBeNaN();
    expect(integral('integrate(sqrt(s), s, -1, 1)')).toBeNaN();
  });

  it('end with bounded work where the integrand never becomes smooth', () => {
    const found = integral('integrate(integrate(sign(sin(1e5*s*u)), u, 0, 1), s, 0, 1)');
    expect(Number.isNaN(found) || Math.abs(found) <= 1).toBe(true);
  });

  it('are differentiated under the sign and at both limits', () => {
    const tree = treeOf('integrate(sin(x*s), s, x, x^2)');
    expect(toText(differentiate(tree, 'x'))).toBe(
      'sin(x*x^2)*(2*x) - sin(x*x) + integrate(cos(x*s)*s, s, x, x^2)',
    );
    // ∫ sin(x s) ds = (cos x² - cos x³)/x, differentiated by hand.
    const x = 1.3;
    const closed =
      (3 * x ** 2 * Math.sin(x ** 3) - 2 * x * Math.sin(x ** 2)) / x -
      (Math.cos(x ** 2) - Math.cos(x ** 3)) / x ** 2;
    const out = new Float64Array(1);
    compileFunction([differentiate(tree, 'x')], ['x'])(Float64Array.of(x), out);
    expect(relativeError(out[0], closed)).toBeLessThan(1e-12);
  });

  it('hide their variable: a derivative by a name like it is zero', () => {
    expect(toText(differentiate(treeOf('integrate(s^2, s, 0, 1)'), 's'))).toBe('0');
    expect(toText(differentiate(treeOf('integrate(s^2, s, 0, s)'), 's'))).toBe('s^2');
  });
});
