import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('draining-bottle');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [g, a, A, h_0, d_h, y_j] = ['g', 'a', 'A', 'h_0', 'd_h', 'y_j'].map(own);

/** What the lab predicts with one effect alone, or with none. */
function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

/** Slope and intercept of the line of least squares. */
function lineThrough(x: readonly number[], y: readonly number[]): { slope: number; intercept: number } {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [x_m, y_m] = [mean(x), mean(y)];
  const slope =
    x.reduce((sum, value, i) => sum + (value - x_m) * (y[i] - y_m), 0) /
    x.reduce((sum, value) => sum + (value - x_m) ** 2, 0);
  return { slope, intercept: y_m - slope * x_m };
}

/**
 * What the lab's reduction makes of a level that starts `skin` lower and is read against a scale: the level above that
 * mark falls by Torricelli's law in closed form, (√(h₀ − skin) − a/A·√(g/2)·t)². Which picture is the last that counts
 * hangs on the start, so runs are averaged that start anywhere within 3 mm of h₀, as the lab says they do.
 */
function reducedBy(skin: number, scale: (h: number) => number): { q: number; p: number } {
  const starts = Array.from({ length: 400 }, (_, i) => h_0 + 3e-3 * ((i + 0.5) / 200 - 1));
  const runs = starts.map((start) => reduceRun(start, skin, scale));
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return { q: mean(runs.map(({ q }) => q)), p: mean(runs.map(({ p }) => p)) };
}

function reduceRun(start: number, skin: number, scale: (h: number) => number): { q: number; p: number } {
  const rate = (a / A) * Math.sqrt(g / 2);
  const above = (t: number) => (Math.sqrt(start - skin) - rate * t) ** 2;
  const times = Array.from({ length: 200 }, (_, i) => i);
  const seen = times.filter((t) => rate * t < Math.sqrt(start - skin) && scale(above(t) + skin) > 0.05);
  const levels = lineThrough(
    seen,
    seen.map((t) => Math.sqrt(scale(above(t) + skin))),
  );
  const reach = Math.min(40, Math.ceil((Math.sqrt(start - skin) - Math.sqrt(0.04 - skin)) / rate));
  const early = times.slice(0, reach);
  const jet = lineThrough(
    early,
    early.map((t) => 2 * Math.sqrt(y_j * above(t))),
  );
  return { q: -levels.slope / rate, p: jet.intercept / (2 * Math.sqrt(y_j) * levels.intercept) };
}

describe('a bottle that empties through a hole', () => {
  it('without effects: every ratio to the law of Torricelli is one (closed form)', () => {
    const found = predicted();
    for (const name of ['q', 'p', 'n', 'q_w']) expect(found.get(name)).toBeCloseTo(1, 6);
  });

  it('a jet that draws together carries less at the same speed (closed form)', () => {
    const found = predicted('jet draws together');
    expect(found.get('q')).toBeCloseTo(own('c_c'), 6);
    expect(found.get('p')).toBeCloseTo(1, 6);
    expect(found.get('n')).toBeCloseTo(own('c_c'), 6);
  });

  it('friction at the rim takes from speed and outflow alike (closed form)', () => {
    const found = predicted('rim holds back');
    expect(found.get('q')).toBeCloseTo(own('c_v'), 6);
    expect(found.get('p')).toBeCloseTo(own('c_v'), 6);
    expect(found.get('n')).toBeCloseTo(1, 6);
  });

  it('the skin of a jet presses as tension over radius, like a level that starts lower (Young and Laplace)', () => {
    const expected = reducedBy(own('sigma') / (d_h / 2) / (own('rho') * g), (h) => h);
    const found = predicted('skin of the jet');
    expect(found.get('q')).toBeCloseTo(expected.q, 5);
    expect(found.get('p')).toBeCloseTo(expected.p, 5);
  });

  it('a scale behind the bottle shows the way from the height of the camera too large (like triangles)', () => {
    const expected = reducedBy(0, (h) => own('h_c') + (h - own('h_c')) * (1 + own('p_s')));
    const found = predicted('scale stands behind');
    expect(found.get('q')).toBeCloseTo(expected.q, 5);
    expect(found.get('p')).toBeCloseTo(expected.p, 5);
  });

  it('contraction and friction that theory knows stay near the published ones of a sharp edge', () => {
    // Discharge of a sharp-edged orifice at high Reynolds numbers: 0.60 to 0.62, of which contraction is 0.61 to 0.64
    // (π/(π + 2) = 0.611 for a slit without friction; Batchelor, An Introduction to Fluid Dynamics, 1967).
    expect(own('c_c') * own('c_v')).toBeGreaterThan(0.6);
    expect(own('c_c') * own('c_v')).toBeLessThan(0.62);
    expect(own('c_c')).toBeGreaterThan(Math.PI / (Math.PI + 2));
  });

  it('has three trials of each of three holes', () => {
    expect(trials).toHaveLength(9);
  });
});
