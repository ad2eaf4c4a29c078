import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('heavy-spring');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [m, k, m_f, m_h, c_s, c_1, c_2, z_0] = ['m', 'k', 'm_f', 'm_h', 'c_s', 'c_1', 'c_2', 'z_0'].map(own);

function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

/** The slowest swing of a load on a heavy spring: y tan y = m_f/m, found by halving; Galloni and Kohen 1979. */
function exactPeriod(load: number): number {
  let [low, high] = [0, Math.PI / 2];
  for (let i = 0; i < 60; i++) {
    const y = (low + high) / 2;
    if (y * Math.tan(y) < m_f / load) low = y;
    else high = y;
  }
  return (2 * Math.PI * Math.sqrt(m_f / k)) / low;
}

describe('a spring that has mass itself', () => {
  it('without effects: T² over load is 4π²/k, and nothing else swings (closed form)', () => {
    const found = predicted();
    expect(found.get('s')).toBeCloseTo((4 * Math.PI ** 2) / k, 4);
    expect(found.get('m_0')).toBeCloseTo(0, 6);
    expect(found.get('T')).toBeCloseTo(2 * Math.PI * Math.sqrt(m / k), 6);
  });

  it('the spring swings as y tan y = m_f/m says (exact solution of the wave equation)', () => {
    // The series in m_f/m is cut after its third power.
    expect(Math.abs((predicted('spring swings too').get('T') ?? 0) / exactPeriod(m) - 1)).toBeLessThan(2e-5);
  });

  it('about a third of the spring counts (Rayleigh)', () => {
    const counted = (predicted('spring swings too').get('m_0') ?? 0) / m_f;
    expect(counted).toBeGreaterThan(1 / 3);
    expect(counted).toBeLessThan(0.36);
  });

  it('hook and plate count as they weigh', () => {
    expect(predicted('hook and plate').get('m_0')).toBeCloseTo(m_h, 5);
  });

  it('a stand that yields is a second spring in the chain: T grows by √(1 + k c) (closed form)', () => {
    const found = predicted('stand yields');
    expect((found.get('T') ?? 0) / (2 * Math.PI * Math.sqrt(m / k))).toBeCloseTo(Math.sqrt(1 + k * c_s), 6);
    expect(found.get('m_0')).toBeCloseTo(0, 6);
  });

  it('air lengthens the period by ζ²/2, ζ from the loss of energy in a swing (textbook limit of weak damping)', () => {
    const omega = Math.sqrt(k / m);
    const damping = c_1 + (8 / (3 * Math.PI)) * c_2 * omega * z_0;
    const zeta = damping / (2 * Math.sqrt(k * m));
    const longer = (predicted('air brakes').get('T') ?? 0) * (omega / (2 * Math.PI)) - 1;
    expect(longer / (zeta ** 2 / 2)).toBeGreaterThan(0.6);
    expect(longer / (zeta ** 2 / 2)).toBeLessThan(1.2);
  });

  it('has two trials at each of five loads', () => {
    expect(trials).toHaveLength(10);
  });
});
