import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('rollers');
const { lab } = pipeline;
const own = (name: string) => valueIn(pipeline, name);
const [g, k, H, L, R, x_s] = ['g', 'k', 'H', 'L', 'R', 'x_s'].map(own);
const sine = H / L;
const ways = [0.1, 0.28, 0.46, 0.64, 0.82, 1].map((gate) => gate - x_s);

/** What the lab predicts with one effect alone, or with none. */
function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

/** Acceleration of the parabola of least squares through way against time, by orthogonal polynomials. */
function parabola(times: readonly number[], values: readonly number[]): number {
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, value, i) => sum + value * b[i], 0);
  const less = (a: readonly number[], b: readonly number[]) => {
    const share = dot(a, b) / dot(b, b);
    return a.map((value, i) => value - share * b[i]);
  };
  const one = times.map(() => 1);
  const first = less(times, one);
  const square = times.map((t) => t * t);
  const second = less(less(square, one), first);
  return (2 * dot(values, second)) / dot(second, second);
}

const shapeOf = (acceleration: number) => (g * sine) / acceleration - 1;

describe('rollers on a ramp', () => {
  it('without effects: the acceleration is g sin α over 1 + k (any textbook on rigid bodies)', () => {
    const found = predicted();
    expect(found.get('a_m')).toBeCloseTo((g * sine) / (1 + k), 8);
    expect(found.get('k_m')).toBeCloseTo(k, 8);
    expect(found.get('s')).toBeCloseTo(1, 8);
    expect(found.get('k_0')).toBeCloseTo(0, 8);
  });

  it('a ring with a wall: half the sum of the squares of both radii (table of moments of inertia)', () => {
    const inner = 1 - own('w_r');
    expect(predicted('ring has a wall').get('k_m')).toBeCloseTo((1 + inner * inner) / 2, 8);
  });

  it('rolling resistance takes the lever over the radius from the tangent of the slope, of every shape (closed form)', () => {
    const share = own('f_r') / R / Math.tan(Math.asin(sine));
    const found = predicted('rolling resistance');
    expect(found.get('k_m')).toBeCloseTo((1 + k) / (1 - share) - 1, 8);
    expect(found.get('s')).toBeCloseTo(1 / (1 - share), 8);
    expect(found.get('k_0')).toBeCloseTo(1 / (1 - share) - 1, 8);
  });

  it('a sagging ramp: the way follows a cosine about a point far below (closed form)', () => {
    const bend = (8 * own('s_b')) / (L * L);
    const pull = (g * (sine + bend * (L / 2 - x_s))) / (1 + k);
    const rate = (g * bend) / (1 + k);
    const times = ways.map((way) => Math.acos(1 - (way * rate) / pull) / Math.sqrt(rate));
    expect(predicted('ramp sags').get('k_m')).toBeCloseTo(shapeOf(parabola(times, ways)), 6);
  });

  it('air: the way is the logarithm of a hyperbolic cosine (closed form)', () => {
    const c = own('c_air');
    const moved = own('m_r') * (1 + k);
    const force = own('m_r') * g * sine;
    const times = ways.map((way) => (moved / Math.sqrt(force * c)) * Math.acosh(Math.exp((c * way) / moved)));
    expect(predicted('air on the roller').get('k_m')).toBeCloseTo(shapeOf(parabola(times, ways)), 6);
  });

  it('has three trials of each of three rollers', () => {
    expect(trials).toHaveLength(9);
  });
});
