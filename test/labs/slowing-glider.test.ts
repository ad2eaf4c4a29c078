import { describe, expect, it } from 'vitest';
import { compareModels, predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('slowing-glider');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [g, m, b, v_n, x_s] = ['g', 'm', 'b', 'v_n', 'x_s'].map(own);
const gates = [0.05, 0.3, 0.55, 0.8, 1.05, 1.3];
const starts = [0.3, 0.45, 0.6, 0.8, 1];

/** What the lab predicts with one effect alone, or with none. */
function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Slope of the line of least squares. */
function slopeOf(x: readonly number[], y: readonly number[]): number {
  const [x_m, y_m] = [mean(x), mean(y)];
  return (
    x.reduce((sum, value, i) => sum + (value - x_m) * (y[i] - y_m), 0) /
    x.reduce((sum, value) => sum + (value - x_m) ** 2, 0)
  );
}

/** What the lab's reduction makes of a speed that is known at each place: the cost of each metre, and the power. */
function reduced(speedAt: (way: number, start: number) => number): { l: number; p: number } {
  const runs = starts.map((start) => {
    const speeds = gates.map((gate) => speedAt(gate - x_s, start));
    const cost = -slopeOf(gates, speeds);
    return { speed: mean(speeds), force: m * cost * mean(speeds), cost };
  });
  const logs = (of: (run: (typeof runs)[number]) => number) => runs.map((run) => Math.log(of(run)));
  const p = slopeOf(
    logs(({ speed }) => speed),
    logs(({ force }) => force),
  );
  return { l: runs[starts.indexOf(v_n)]?.cost ?? Number.NaN, p };
}

/** The speed where way = ∫ m v dv / F(v) from it to the start; by bisection, the integral by Simpson's rule. */
function speedUnder(force: (v: number) => number): (way: number, start: number) => number {
  const wayFrom = (v: number, start: number) => {
    const count = 200;
    const h = (start - v) / count;
    let sum = 0;
    for (let i = 0; i <= count; i++) {
      const at = v + i * h;
      sum += ((i === 0 || i === count ? 1 : i % 2 === 1 ? 4 : 2) * m * at) / force(at);
    }
    return (sum * h) / 3;
  };
  return (way, start) => {
    let [low, high] = [0.02, start];
    for (let i = 0; i < 50; i++) {
      const middle = (low + high) / 2;
      if (wayFrom(middle, start) > way) low = middle;
      else high = middle;
    }
    return low;
  };
}

describe('what stops a glider', () => {
  it('without effects: each metre costs b/m, the power is one, and b is all of the parabola (closed form)', () => {
    const found = predicted();
    expect((found.get('l') ?? 0) / (b / m)).toBeCloseTo(1, 4);
    expect(found.get('p')).toBeCloseTo(1, 4);
    expect((found.get('k_1') ?? 0) / b).toBeCloseTo(1, 4);
    expect(Math.abs(found.get('F_0') ?? Number.NaN)).toBeLessThan(1e-3 * own('F_d'));
    expect(Math.abs(found.get('k_2') ?? Number.NaN)).toBeLessThan(1e-3 * own('c_air'));
  });

  it.each([
    ['dry rubbing', own('F_d'), 0],
    ['track falls', -m * g * own('e_t'), 0],
    ['air on the card', 0, own('c_air')],
  ] as const)(
    '%s beside the magnets: as the way from one speed to another says (integral, no time step)',
    (effect, constant, square) => {
      const expected = reduced(speedUnder((v) => b * v + constant + square * v * v));
      const found = predicted(effect);
      expect(Math.abs((found.get('l') ?? Number.NaN) / expected.l - 1)).toBeLessThan(2e-3);
      expect(Math.abs((found.get('p') ?? Number.NaN) - expected.p)).toBeLessThan(2e-3);
    },
  );

  it('tells the three kinds apart: each effect goes into its own part of the parabola', () => {
    const dry = predicted('dry rubbing');
    expect((dry.get('F_0') ?? 0) / own('F_d')).toBeCloseTo(1, 1);
    expect(Math.abs(dry.get('k_2') ?? Number.NaN)).toBeLessThan(0.01 * own('c_air'));
    const air = predicted('air on the card');
    expect((air.get('k_2') ?? 0) / own('c_air')).toBeCloseTo(1, 2);
    expect(Math.abs(air.get('F_0') ?? Number.NaN)).toBeLessThan(0.01 * own('F_d'));
    for (const found of [dry, air]) expect((found.get('k_1') ?? 0) / b).toBeCloseTo(1, 2);
  });

  it('of all three kinds, which the readings were invented with, the trials ask; none alone has any weight', () => {
    const models = must(compareModels(pipeline, trials));
    const weightOf = (name: string) => models.find(({ model }) => model.name === name)?.weight ?? Number.NaN;
    expect(weightOf('all three')).toBeGreaterThan(0.9);
    for (const alone of ['dry', 'in step', 'square']) expect(weightOf(alone)).toBeLessThan(1e-9);
    // invent.mjs has 20 mN·s/m, 0.4 mN and 8.5e-3 kg/m, each within what it draws, and a drag that fades at speed.
    const all = models.find(({ model }) => model.name === 'all three');
    const freed = (name: string) =>
      all?.free.find(({ quantity }) => quantity.name === name)?.posterior.value ?? Number.NaN;
    expect(freed('b')).toBeCloseTo(0.02, 3);
    expect(freed('F_d')).toBeCloseTo(0.0004, 3);
    expect(freed('c_air')).toBeCloseTo(0.0075, 3);
  }, 120_000);

  it('has three trials at each of five speeds', () => {
    expect(trials).toHaveLength(15);
  });
});
