import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('paper-cups');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [g, m_1, A, C, rho, h_w] = ['g', 'm_1', 'A', 'C', 'rho', 'h_w'].map(own);
const numbers = [1, 2, 3, 4, 6, 8];
const resistance = (C * rho * A) / 2;

/** The power that the lab predicts with one effect alone, or none. */
function power(effect?: string): number {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return results.find(({ name }) => name === 'p')?.predicted.value ?? Number.NaN;
}

/** The class's own line of logarithms through speeds found otherwise. */
function byHand(speed: (n: number) => number): number {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const x = numbers.map(Math.log);
  const y = numbers.map((n) => Math.log(speed(n)));
  return (
    x.reduce((sum, value, i) => sum + (value - mean(x)) * (y[i] - mean(y)), 0) /
    x.reduce((sum, value) => sum + (value - mean(x)) ** 2, 0)
  );
}

/** Time at which a body that is let go has fallen by s against resistance by the square: s = m/K·ln cosh(√(gK/m)·t). */
function timeOfFall(s: number, mass: number): number {
  return Math.acosh(Math.exp((s * resistance) / mass)) / Math.sqrt((g * resistance) / mass);
}

describe('paper cups that fall', () => {
  it('without effects: the square root of the number (closed form)', () => {
    expect(power()).toBeCloseTo(0.5, 6);
  });

  it('without effects a cup falls at √(2mg/ρCA), 1.87 m/s (closed form)', () => {
    const n = lab.quantities.byName.get('n');
    if (n?.kind !== 'base') throw new Error('n is given');
    const { results } = must(predict(pipeline, { subset: 0, settings: [{ quantity: n, value: 1 }] }));
    const found = results.find(({ name }) => name === 'v_t')?.predicted.value ?? Number.NaN;
    expect(found).toBeCloseTo(Math.sqrt((m_1 * g) / resistance), 6);
  });

  it('heavy nests still speed up: s = m/K ln cosh, mean speed through the picture (any textbook)', () => {
    const expected = byHand((n) => {
      const [from, to] = [0.05, 1.15].map((y) => timeOfFall(h_w + y, n * m_1));
      return 1.1 / (to - from);
    });
    // A line through pictures weighs the middle more than the ends.
    expect(Math.abs(power('still speeding up') - expected)).toBeLessThan(0.004);
    expect(expected).toBeLessThan(0.45);
  });

  it('a longer nest: the steady speed with its own drag (closed form)', () => {
    const expected = byHand((n) => Math.sqrt((n * m_1 * g) / (resistance * (1 + own('c_n') * (n - 1)))));
    expect(power('nest is longer')).toBeCloseTo(expected, 6);
  });

  it('sticky air: the root of v² + v_c v = mg/K (closed form)', () => {
    const v_c = own('v_c');
    const expected = byHand((n) => -v_c / 2 + Math.sqrt(v_c ** 2 / 4 + (n * m_1 * g) / resistance));
    expect(power('slow air is sticky')).toBeCloseTo(expected, 6);
  });

  it('air that comes along changes no steady speed, only the way to it (limit)', () => {
    expect(power('air comes along')).toBeCloseTo(0.5, 6);
  });

  it('has three trials at each of six numbers', () => {
    expect(trials).toHaveLength(18);
  });
});
