import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('heavy-wheel');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [g, m_r, m_d, R, I, h] = ['g', 'm_r', 'm_d', 'R', 'I', 'h'].map(own);
const weights = [0.1, 0.15, 0.2, 0.25, 0.3];

/** Slope and intercept of an unweighted straight line, any textbook. */
function line(x: readonly number[], y: readonly number[]): { slope: number; intercept: number } {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [mx, my] = [mean(x), mean(y)];
  const slope =
    x.reduce((sum, value, i) => sum + (value - mx) * (y[i] - my), 0) /
    x.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  return { slope, intercept: my - slope * mx };
}

/** What the lab predicts with one effect alone, or none. */
function predicted(effect?: string): { readonly m_w: number; readonly k: number } {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  const of = (name: string) => results.find((result) => result.name === name)?.predicted.value ?? Number.NaN;
  return { m_w: of('m_w'), k: of('k') };
}

/** Acceleration of each weight by `accelerate`, then the class's own straight line. */
function byHand(accelerate: (hanging: number) => number) {
  const hanging = weights.map((weight) => 2 * weight + m_r);
  const { slope, intercept } = line(
    hanging,
    hanging.map((mass) => (m_r * g) / accelerate(mass)),
  );
  return { m_w: intercept, k: slope };
}

describe('two weights over a heavy wheel', () => {
  it('finds the wheel by itself: 0.515 of 184 g, and a slope of one (closed form)', () => {
    const { m_w, k } = predicted();
    expect(m_w).toBeCloseTo(0.515 * 0.184, 6);
    expect(k).toBeCloseTo(1, 6);
  });

  it('a thick cord: the wheel turns by R/(R + d/2) of what a class counts (closed form)', () => {
    const R_c = R + own('d_c') / 2;
    const { m_w, k } = predicted('cord has thickness');
    expect(k).toBeCloseTo(R_c / R, 6);
    expect(m_w).toBeCloseTo(I / (R_c * R), 6);
  });

  it('a bearing: a constant force off the pull, larger under load (closed form)', () => {
    const { m_w, k } = predicted('bearing drags');
    const expected = byHand((mass) => {
      const drag = (own('tau_b') + own('s_b') * g * (mass + m_d)) / R;
      return (m_r * g - drag) / (mass + I / R ** 2);
    });
    expect(m_w).toBeCloseTo(expected.m_w, 6);
    expect(k).toBeCloseTo(expected.k, 5);
  });

  it('a cord with mass: the parabola of v² has the slope of the middle of the window (closed form)', () => {
    const { m_w, k } = predicted('cord has mass');
    const middle = (0.08 + 0.8) / 2;
    const expected = byHand((mass) => {
      const lambda = own('lambda');
      return (m_r * g + lambda * g * (2 * middle - h)) / (mass + lambda * own('L_c') + I / R ** 2);
    });
    expect(m_w - 0.515 * 0.184).toBeCloseTo(expected.m_w - 0.515 * 0.184, 4);
    expect(k).toBeCloseTo(expected.k, 3);
  });

  it('air: v² = m_r g/c (1 − exp(−2 c x/m)), any textbook on resistance by the square', () => {
    const { m_w, k } = predicted('air on the weights');
    const c = own('c_air');
    const places = Array.from({ length: 200 }, (_, i) => 0.08 + (0.72 * (i + 0.5)) / 200);
    const expected = byHand((mass) => {
      const total = mass + I / R ** 2;
      const squares = places.map((x) => ((m_r * g) / c) * (1 - Math.exp((-2 * c * x) / total)));
      return line(places, squares).slope / 2;
    });
    // The first mark comes anywhere in the first spacing, so the windows differ by up to a mark of 26 mm.
    expect(m_w - 0.515 * 0.184).toBeCloseTo(expected.m_w - 0.515 * 0.184, 4);
    expect(k).toBeCloseTo(expected.k, 3);
  });

  it('has two trials at each of five weights', () => {
    expect(trials).toHaveLength(10);
  });
});
