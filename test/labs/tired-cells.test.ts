import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('tired-cells');
const own = (name: string) => valueIn(pipeline, name);
const [n, E_1, r_1, R_A, R_c, V_a, i_0, q_t] = ['n', 'E_1', 'r_1', 'R_A', 'R_c', 'V_a', 'i_0', 'q_t'].map(
  own,
);
const CURRENTS = [0.04, 0.07, 0.1, 0.13, 0.16, 0.19];

function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = pipeline.lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

/** Slope of the straight line by least squares through a law at the currents of a run. */
function slopeOf(law: (current: number) => number): number {
  const middle = CURRENTS.reduce((sum, I) => sum + I, 0) / CURRENTS.length;
  const upper = CURRENTS.reduce((sum, I) => sum + (I - middle) * law(I), 0);
  return upper / CURRENTS.reduce((sum, I) => sum + (I - middle) ** 2, 0);
}

describe('cells that give less than they promise', () => {
  it('without effects: resistances and voltages in series add up, and nothing is left (closed form)', () => {
    const found = predicted();
    expect(found.get('r_b')).toBeCloseTo(n * r_1, 9);
    expect(found.get('r_c')).toBeCloseTo(r_1, 9);
    expect(found.get('U_0')).toBeCloseTo(n * E_1, 9);
    expect(found.get('R_x')).toBeCloseTo(0, 9);
  });

  it.each([
    ['ammeter in the way', R_A],
    ['leads and clips', R_c],
  ] as const)('%s: once in the ring, however many cells there are (closed form)', (effect, resistance) => {
    const found = predicted(effect);
    expect(found.get('r_b')).toBeCloseTo(n * r_1 + resistance, 9);
    expect(found.get('R_x')).toBeCloseTo(resistance, 9);
    expect(found.get('r_c')).toBeCloseTo(r_1, 9);
  });

  it('the electrodes take the voltage that the law of Butler and Volmer wants for the current', () => {
    // Both ways alike: I = 2 i₀ sinh(U/V), and the line through its inverse.
    const overvoltage = (I: number) => {
      let [low, high] = [0, 1];
      for (let i = 0; i < 60; i++) {
        const U = (low + high) / 2;
        if (2 * i_0 * Math.sinh(U / V_a) < I) low = U;
        else high = U;
      }
      return low;
    };
    const found = predicted('electrodes lag behind');
    expect((found.get('r_b') ?? 0) - n * r_1).toBeCloseTo(n * slopeOf(overvoltage), 9);
    expect(found.get('R_x')).toBeCloseTo(0, 9);
  });

  it('a loss by the square has, between evenly spaced currents, the slope at their middle (closed form)', () => {
    const middle = (0.04 + 0.19) / 2;
    expect((predicted('cells tire').get('r_b') ?? 0) - n * r_1).toBeCloseTo(n * q_t * 2 * middle, 9);
  });

  it('has three trials for each number of cells', () => {
    expect(trials).toHaveLength(12);
  });
});
