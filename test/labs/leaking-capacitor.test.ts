import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('leaking-capacitor');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [R, C, G_m, G_d, C_2, t_2] = ['R', 'C', 'G_m', 'G_d', 'C_2', 't_2'].map(own);

function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

/**
 * Time constant from a line through log u at ten readings a second, u a sum of two exponentials: the voltage of a
 * capacitor C with a second one, C_2, behind the resistance t_2/C_2 (two coupled linear rates, by their eigenvalues).
 */
function timeOfTwoExponentials(): number {
  const [a, b, c] = [-1 / (R * C) - C_2 / (t_2 * C), C_2 / (t_2 * C), 1 / t_2];
  const root = Math.sqrt((a + c) ** 2 + 4 * b * c);
  const [slow, fast] = [(a - c + root) / 2, (a - c - root) / 2];
  // u(0) = 1 and u'(0) = a + b, for both parts start alike.
  const share = (a + b - fast) / (slow - fast);
  const times = Array.from({ length: Math.ceil(15 * R * C) }, (_, i) => i / 10);
  const logs = times.map((t) => Math.log(share * Math.exp(slow * t) + (1 - share) * Math.exp(fast * t)));
  const middle = times.reduce((sum, t) => sum + t, 0) / times.length;
  const upper = times.reduce((sum, t, i) => sum + (t - middle) * logs[i], 0);
  return -times.reduce((sum, t) => sum + (t - middle) ** 2, 0) / upper;
}

describe('a capacitor that leaks by being watched', () => {
  it('without effects: the time is R C, the slope gives C, and nothing else conducts (closed form)', () => {
    const found = predicted();
    expect((found.get('tau') ?? 0) / (R * C)).toBeCloseTo(1, 5);
    expect((found.get('C_s') ?? 0) / C).toBeCloseTo(1, 5);
    expect(Math.abs(found.get('G_x') ?? Number.NaN)).toBeLessThan(1e-4 * G_m);
  });

  it.each([
    ['meter is a load', G_m],
    ['capacitor leaks', G_d],
  ] as const)('%s: a second resistor beside the first, C/(1/R + G) (closed form)', (effect, G) => {
    const found = predicted(effect);
    expect((found.get('tau') ?? 0) / (C / (1 / R + G))).toBeCloseTo(1, 5);
    expect((found.get('C_s') ?? 0) / C).toBeCloseTo(1, 5);
    expect(Math.abs((found.get('G_x') ?? 0) - G)).toBeLessThan(1e-4 * G_m);
  });

  it('charge that comes out late makes the time longer, as the sum of two exponentials says (exact solution)', () => {
    const found = predicted('dielectric absorbs').get('tau') ?? 0;
    expect(found / timeOfTwoExponentials()).toBeCloseTo(1, 4);
    // Between none of the lagging part and all of it.
    expect(found).toBeGreaterThan(R * C);
    expect(found).toBeLessThan(R * (C + C_2));
  });

  it('has three trials at each of four resistors', () => {
    expect(trials).toHaveLength(12);
  });
});
