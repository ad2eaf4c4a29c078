import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('drawn-cart');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [g, m_T, x_0] = ['g', 'm_T', 'x_0'].map(own);
const weights = [0.02, 0.03, 0.04, 0.05, 0.06];

/** What the lab predicts with one effect alone, less what it predicts without any. */
function shift(effect: string): ReadonlyMap<string, number> {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const [alone, none] = [1 << index, 0].map((subset) => must(predict(pipeline, { subset })).results);
  return new Map(
    alone.map(({ name, predicted }, i) => [name, predicted.value - (none[i]?.predicted.value ?? Number.NaN)]),
  );
}

/** Mass and intercept of the class's straight line through accelerations found otherwise. */
function byHand(accelerate: (weight: number) => number) {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const y = weights.map(accelerate);
  const [mx, my] = [mean(weights), mean(y)];
  const slope =
    weights.reduce((sum, value, i) => sum + (value - mx) * (y[i] - my), 0) /
    weights.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  return { moved: g / slope, intercept: my - slope * mx };
}

describe('a weight draws a cart', () => {
  it('without effects: the slope is g over all that moves, and the line goes through zero (Newton)', () => {
    const { results } = must(predict(pipeline, { subset: 0 }));
    const [moved, intercept] = results.map(({ predicted }) => predicted.value);
    // A flag of 20 mm takes the mean speed of its way for the speed at its middle.
    expect(Math.abs(moved / m_T - 1)).toBeLessThan(5e-4);
    expect(intercept).toBeCloseTo(0, 4);
  });

  it('the flag at the first gate shows its mean speed: v² too small by (a·flag/4v)² times two (series)', () => {
    const a = (g * 0.04) / m_T;
    const places = [0.02, 0.15, 0.28, 0.41, 0.54, 0.67];
    const speedsByFlag = places.map((place) => {
      const timeAt = (x: number) => Math.sqrt((2 * (x + x_0)) / a);
      return 0.02 / (timeAt(place + 0.01) - timeAt(place - 0.01));
    });
    const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
    const squares = speedsByFlag.map((v) => v * v);
    const slope =
      places.reduce((sum, x, i) => sum + (x - mean(places)) * (squares[i] - mean(squares)), 0) /
      places.reduce((sum, x) => sum + (x - mean(places)) ** 2, 0);
    const { results } = must(predict(pipeline, { subset: 0 }));
    const found = results.find(({ name }) => name === 'a_m')?.predicted.value ?? Number.NaN;
    // Each place is counted where the flag's middle is at half the time, a little before the gate.
    expect(Math.abs(found / (slope / 2) - 1)).toBeLessThan(2e-3);
    expect(Math.abs(found / a - 1)).toBeLessThan(1e-3);
  });

  it('wheels turn: they add their own mass to the slope (closed form)', () => {
    const expected = byHand((m) => (m * g) / (m_T + own('m_w') + own('m_p'))).moved - m_T;
    expect(shift('wheels turn').get('m_moved')).toBeCloseTo(expected, 4);
  });

  it('rolling resistance: in step with the cart’s weight, so the slope grows by μ and the line sinks by μg (closed form)', () => {
    const mu = own('mu_r');
    const found = shift('rolling resistance');
    expect(found.get('m_moved')).toBeCloseTo(m_T / (1 + mu) - m_T, 4);
    expect(found.get('a_0')).toBeCloseTo(-mu * g, 3);
  });

  it('a track that falls: the other way round (closed form)', () => {
    const tilt = own('tilt');
    const found = shift('track falls a little');
    expect(found.get('m_moved')).toBeCloseTo(m_T / (1 - tilt) - m_T, 4);
    expect(found.get('a_0')).toBeCloseTo(tilt * g, 3);
  });

  it('air: v² = m g/c (1 − exp(−2 c s/m)), any textbook on resistance by the square', () => {
    const c = own('c_air');
    const places = [0.02, 0.15, 0.28, 0.41, 0.54, 0.67];
    const middle = places.reduce((sum, x) => sum + x, 0) / places.length;
    const expected = byHand((m) => {
      const squares = places.map((x) => ((m * g) / c) * (1 - Math.exp((-2 * c * (x + x_0)) / m_T)));
      const mean = squares.reduce((sum, value) => sum + value, 0) / squares.length;
      return (
        places.reduce((sum, x, i) => sum + (x - middle) * (squares[i] - mean), 0) /
        places.reduce((sum, x) => sum + (x - middle) ** 2, 0) /
        2
      );
    });
    expect(shift('air on the cart').get('m_moved')).toBeCloseTo(expected.moved - m_T, 4);
  });

  it('has three trials at each of five weights', () => {
    expect(trials).toHaveLength(15);
  });
});
