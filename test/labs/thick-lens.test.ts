import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline, trials } = await openShipped('thick-lens');
const own = (name: string) => valueIn(pipeline, name);
const [a, R, n_0, n_r, f_0, h_s, D, s_h, w_s] = ['a', 'R', 'n_0', 'n_r', 'f_0', 'h_s', 'D', 's_h', 'w_s'].map(
  own,
);

function predicted(...effects: readonly string[]): ReadonlyMap<string, number> {
  const subset = pipeline.lab.effects.reduce(
    (bits, { name }, index) => (effects.includes(name) ? bits + 2 ** index : bits),
    0,
  );
  const { results } = must(predict(pipeline, { subset }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

const focalLength = (object: number, image: number) => 1 / (1 / object + 1 / image);

/** Slope of the ray and height after a face, for rays close to the axis: height kept, n u' = n u - power y. */
function imageOfThickLens(object: number): number {
  const power = (n_0 - 1) / R;
  const before = object - D / 2;
  const height = before;
  const inside = (1 - power * height) / n_0;
  const atBack = height + D * inside;
  const after = n_0 * inside - power * atBack;
  return D / 2 - atBack / after;
}

/** Where a ray from the axis that meets the front face at a height meets the axis again, by Snell's law alone. */
function imageByRay(object: number, height: number): number {
  const toFront = -D / 2 + R - Math.sqrt(R * R - height * height);
  const slope = Math.atan2(height, object + toFront);
  const front = Math.asin(height / R);
  const inside = Math.asin(Math.sin(slope + front) / n_0) - front;
  // Angles against the axis; the second sphere has its middle at D/2 - R.
  const middle = D / 2 - R;
  const distance = height * Math.cos(inside) - (toFront - middle) * Math.sin(inside);
  const incidence = Math.asin(distance / R);
  const back = incidence + inside;
  const leaving = Math.asin(n_0 * Math.sin(incidence)) - back;
  const [z, y] = [middle + R * Math.cos(back), R * Math.sin(back)];
  return z + y / Math.tan(leaving);
}

describe('a thin lens that is not thin', () => {
  it('without effects: one focal length from the line and from each pair, slope -1 (closed form)', () => {
    const found = predicted();
    expect(f_0).toBeCloseTo(R / (2 * (n_0 - 1)), 12);
    expect(found.get('f')).toBeCloseTo(f_0, 9);
    expect(found.get('f_1')).toBeCloseTo(f_0, 9);
    expect(found.get('m')).toBeCloseTo(-1, 9);
  });

  it('light is red: the focal length of the lower index, slope -1 (closed form)', () => {
    const found = predicted('light is red');
    expect(found.get('f')).toBeCloseTo(R / (2 * (n_0 - n_r - 1)), 9);
    expect(found.get('m')).toBeCloseTo(-1, 9);
  });

  it('mark is off: what one distance gains the other loses (closed form)', () => {
    const image = s_h + 1 / (1 / f_0 - 1 / (a + s_h));
    expect(predicted('mark is off').get('f_1')).toBeCloseTo(focalLength(a, image), 9);
  });

  it('lens is thick: a ray close to the axis, face by face (independent of focal length and principal planes)', () => {
    expect(predicted('lens is thick').get('f_1')).toBeCloseTo(focalLength(a, imageOfThickLens(a)), 9);
  });

  it('rays far from the axis: the third-order formula against rays by the law of refraction, to a tenth', () => {
    const height = Math.sqrt(w_s) * h_s;
    const close = focalLength(a, imageByRay(a, height / 1000));
    expect(close).toBeCloseTo(focalLength(a, imageOfThickLens(a)), 7);
    const shift = focalLength(a, imageByRay(a, height)) - close;
    const both = predicted('lens is thick', 'rim bends too much').get('f_1') ?? 0;
    const shiftOfLab = both - (predicted('lens is thick').get('f_1') ?? 0);
    expect(Math.abs(shiftOfLab / shift - 1)).toBeLessThan(0.1);
  });

  it('has two trials at each of six distances', () => {
    expect(trials).toHaveLength(12);
  });
});
