import { describe, expect, it } from 'vitest';
import { predict } from '../../src/run/index.ts';
import { must, openShipped, valueIn } from './shipped-lab.ts';

const { pipeline } = await openShipped('loud-tube');
const own = (name: string) => valueIn(pipeline, name);
const [f, r] = [own('f'), own('r')];
const free = Math.sqrt((own('gamma') * own('R_g') * own('T_a')) / own('M_d'));

function predicted(effect?: string): ReadonlyMap<string, number> {
  const index = pipeline.lab.effects.findIndex(({ name }) => name === effect);
  const { results } = must(predict(pipeline, { subset: index < 0 ? 0 : 1 << index }));
  return new Map(results.map(({ name, predicted: { value } }) => [name, value]));
}

describe('a tube that sounds longer than it is', () => {
  it('without effects: both speeds are that of sound in dry air, 331.3 m/s at the ice point (handbook value)', () => {
    const found = predicted();
    expect(found.get('c_1')).toBeCloseTo(free, 6);
    expect(found.get('c_s')).toBeCloseTo(free, 6);
    expect(Math.abs(free * Math.sqrt(273.15 / own('T_a')) - 331.3)).toBeLessThan(0.3);
    expect(found.get('e')).toBeCloseTo(0, 9);
  });

  it('an open end without flange lacks 0.61 of the radius (Levine and Schwinger 1948)', () => {
    const found = predicted('open end');
    expect((found.get('e') ?? 0) / r).toBeCloseTo(0.6133, 2);
    expect((found.get('c_1') ?? 0) - free).toBeCloseTo(-4 * f * 0.61 * r, 6);
    expect(found.get('c_s')).toBeCloseTo(free, 6);
  });

  it('damp air: lighter molecules with more ways to move (mixture of ideal gases)', () => {
    const h = own('h_w');
    const ratio = (3.5 + 0.5 * h) / (2.5 + 0.5 * h) / 1.4;
    const mass = 1 - h + (h * 0.018015) / 0.028965;
    expect(Math.abs((predicted('damp air').get('c_s') ?? 0) / free - Math.sqrt(ratio / mass))).toBeLessThan(
      5e-5,
    );
  });

  it('the wall slows the sound by half its layer over the radius, heat included (Kirchhoff, in Rayleigh)', () => {
    const layer = Math.sqrt((2 * own('nu')) / (2 * Math.PI * f));
    const slower = (layer / (2 * r)) * (1 + (own('gamma') - 1) / Math.sqrt(own('Pr')));
    expect((predicted('the wall').get('c_s') ?? 0) / free).toBeCloseTo(1 - slower, 6);
  });
});
