import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('cooling-mug');
const own = (name: string) => valueIn(pipeline, name);

function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = pipeline.lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

/** Time constant by the straight line through the logarithm of the excess, a reading each ten seconds. */
function timeConstantOf(temperature: (t: number) => number): number {
  const T_a = own('T_a');
  const times = Array.from({ length: 91 }, (_, i) => 10 * i);
  const upper = times.reduce((sum, t) => sum + (t - 450) * Math.log(temperature(t) - T_a), 0);
  return -times.reduce((sum, t) => sum + (t - 450) ** 2, 0) / upper;
}

/**
 * Temperature after the time t, where dT/dt = -power(T)/C: the time is C times the integral of dT/power, by Simpson's
 * rule, and the temperature is found by halving.
 */
function temperatureAfter(t: number, power: (T: number) => number): number {
  const [start, C] = [own('T_0'), own('C')];
  const timeTo = (T: number) => {
    const h = (start - T) / 100;
    let sum = 0;
    for (let i = 0; i <= 100; i++) {
      sum += (i === 0 || i === 100 ? 1 : i % 2 === 1 ? 4 : 2) / power(T + i * h);
    }
    return (C * sum * h) / 3;
  };
  let [low, high] = [own('T_a') + 1, start];
  for (let i = 0; i < 50; i++) {
    const T = (low + high) / 2;
    if (timeTo(T) > t) low = T;
    else high = T;
  }
  return (low + high) / 2;
}

describe('a mug that cools too fast while it is hot', () => {
  it('without effects: one time constant C/G, from hot and from warm (closed form)', () => {
    const found = predicted();
    expect((found.get('tau') ?? 0) / (own('C') / own('G'))).toBeCloseTo(1, 6);
    expect((found.get('k_0') ?? 0) / (own('G') / own('C'))).toBeCloseTo(1, 6);
    expect((found.get('k_h') ?? 0) / (own('G') / own('C'))).toBeCloseTo(1, 6);
  });

  it('hot walls radiate by the fourth power, beside the straight part (integral over the temperature)', () => {
    const [G, T_a, d_r] = [own('G'), own('T_a'), own('d_r')];
    const c = own('epsilon') * own('A') * 5.670374419e-8;
    const straight = G - (c * ((T_a + d_r) ** 4 - T_a ** 4)) / d_r;
    const power = (T: number) => straight * (T - T_a) + c * (T ** 4 - T_a ** 4);
    const time = timeConstantOf((t) => temperatureAfter(t, power));
    expect((predicted('hot walls radiate').get('tau') ?? 0) / time).toBeCloseTo(1, 5);
  });

  it('rising air takes heat by a power of the excess (closed form of a Bernoulli equation)', () => {
    const [G, C, s_k, n, d_r] = [own('G'), own('C'), own('s_k'), own('n'), own('d_r')];
    // y = θ⁻ⁿ makes θ' = -aθ - bθ^(1+n) linear: y' = n(ay + b).
    const a = ((1 - s_k) * G) / C;
    const b = (s_k * G) / (C * d_r ** n);
    const y_0 = (own('T_0') - own('T_a')) ** -n;
    const excess = (t: number) => ((y_0 + b / a) * Math.exp(n * a * t) - b / a) ** (-1 / n);
    const time = timeConstantOf((t) => own('T_a') + excess(t));
    expect((predicted('warm air rises').get('tau') ?? 0) / time).toBeCloseTo(1, 6);
  });

  it('water follows a room that warms, late by its own time constant (closed form)', () => {
    const [tau, r_a, T_a] = [own('C') / own('G'), own('r_a'), own('T_a')];
    const excess = own('T_0') - T_a;
    const time = timeConstantOf((t) => {
      const fallen = Math.exp(-t / tau);
      return T_a + excess * fallen + r_a * (t - tau * (1 - fallen));
    });
    expect((predicted('room warms').get('tau') ?? 0) / time).toBeCloseTo(1, 6);
  });

  it('vapour takes heat by its pressure, which the equation gives as tables do, and a little water (limits)', () => {
    // Saturation pressure in steam tables: 7.384 kPa at 40 °C, 19.95 kPa at 60 °C, 47.41 kPa at 80 °C.
    const [p_1, T_z, T_m] = [own('p_1'), own('T_z'), own('T_m')];
    const pressure = (T: number) => p_1 * Math.exp((17.071 * (T - T_z)) / (T - T_m));
    for (const [celsius, kilopascals] of [
      [40, 7.384],
      [60, 19.95],
      [80, 47.41],
    ] as const) {
      expect(Math.abs(pressure(celsius + 273.15) / 1000 / kilopascals - 1)).toBeLessThan(0.006);
    }
    const [G, T_a] = [own('G'), own('T_a')];
    const surface = own('k_e') * Math.PI * own('r') ** 2;
    const held = own('H_a') * pressure(T_a);
    const power = (T: number) => G * (T - T_a) + surface * (pressure(T) - held);
    const found = predicted('water evaporates').get('tau') ?? 0;
    const allWaterStays = timeConstantOf((t) => temperatureAfter(t, power));
    expect(found).toBeLessThan(allWaterStays);
    expect(found).toBeGreaterThan(0.98 * allWaterStays);
  });

  it('has two trials from each of four temperatures', () => {
    expect(trials).toHaveLength(8);
  });
});
