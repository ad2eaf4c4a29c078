import { describe, expect, it } from 'vitest';
import { readSetting } from '../../src/lab/index.ts';
import { predict, settingsOff } from '../../src/run/index.ts';
import { must, openShipped, type ShippedLab } from '../labs/shipped-lab.ts';

const setting = ({ pipeline }: ShippedLab, symbol: string, written: string) =>
  must(readSetting(symbol, written, pipeline.lab.quantities, {}, { placeAt: () => ({}) }, 'test'));

/** The subset in which only the named effects are on. */
const only = ({ pipeline }: ShippedLab, ...names: readonly string[]) =>
  pipeline.lab.effects.reduce(
    (subset, effect, index) => (names.includes(effect.name) ? subset | (1 << index) : subset),
    0,
  );

describe('a chain draped over a wheel', () => {
  it('of 1.55 m on an ideal wheel gains 3.56 m/s per metre (common practice, no source)', async () => {
    const lab = await openShipped('draped-chain');
    const [slope] = must(
      predict(lab.pipeline, { subset: 0, settings: [setting(lab, 'L', '1.55 m')] }),
    ).results;
    expect(slope?.name).toBe('slope');
    expect(slope?.predicted.value).toBeCloseTo(3.56, 2);
    expect(slope?.theory?.value).toBeCloseTo(3.56, 2);
  });

  it.each([
    [0.8, 4.9522722057657536],
    [1.0, 4.4294469180700204],
    [1.2, 4.043513323831146],
    [1.4, 3.7435659089009925],
    [2.0, 3.132091952673165],
  ])(
    'of %f m gains √(2 g/L) = %f m/s per metre at g = 9.81 m/s² (closed form, any mechanics textbook)',
    async (L, expected) => {
      const lab = await openShipped('draped-chain');
      const settings = [setting(lab, 'L', `${L} m`), setting(lab, 'g', '9.81 m/s^2')];
      const [slope] = must(predict(lab.pipeline, { subset: 0, settings })).results;
      expect(slope?.theory?.value).toBeCloseTo(expected, 12);
      expect(Math.abs((slope?.predicted.value ?? 0) / expected - 1)).toBeLessThan(1e-3);
    },
  );

  it('lifts off the ideal rim at L/(2√2) (tension meets λv²; derived in the reference file, from memory)', async () => {
    const lab = await openShipped('draped-chain');
    const { holds } = must(predict(lab.pipeline, { subset: 0, settings: [setting(lab, 'L', '1.4 m')] }));
    const x = holds[0]?.failsAt?.state.get('x') ?? Number.NaN;
    // The start at rest a few millimetres from balance raises it by x_0²/(2L²) of itself, 4e-6 here.
    expect(Math.abs(x / 0.4949747468305832 - 1)).toBeLessThan(5e-5);
  });

  it('over a wheel with inertia gains √(2λg/(λL + I/R²)) m/s per metre (derived in the reference file)', async () => {
    const lab = await openShipped('draped-chain');
    const settings = [
      setting(lab, 'L', '1.3 m'),
      setting(lab, 'lambda', '0.045 kg/m'),
      setting(lab, 'R', '0.025 m'),
      setting(lab, 'I', '2.2e-6 kg m^2'),
      setting(lab, 'g', '9.81 m/s^2'),
    ];
    const [slope] = must(predict(lab.pipeline, { subset: only(lab, 'wheel turns too'), settings })).results;
    expect(Math.abs((slope?.predicted.value ?? 0) / 3.7730266908074355 - 1)).toBeLessThan(1e-3);
  });
});

describe('a chain let fall on a scale', () => {
  it('peaks at 3.00 times its weight just before the last link lands (common practice, no source)', async () => {
    const lab = await openShipped('falling-chain');
    const [peak] = must(predict(lab.pipeline, { subset: 0 })).results;
    expect(peak?.name).toBe('peak');
    expect(peak?.predicted.value).toBeCloseTo(3, 6);
  });
});

describe('a trolley drawn by its own chain', () => {
  it('has k² = m_c g/(L (m_t + m_c)) (closed form, any mechanics textbook; value computed with 40 digits)', async () => {
    const lab = await openShipped('tow-chain');
    const settings = [
      setting(lab, 'L', '1.2 m'),
      setting(lab, 'lambda', `${0.0964 / 1.2} kg/m`),
      setting(lab, 'm_t', '251.3 g'),
      setting(lab, 'g', '9.81 m/s^2'),
    ];
    const [k2] = must(predict(lab.pipeline, { subset: 0, settings })).results;
    expect(k2?.theory?.value).toBeCloseTo(2.2665228645383952, 12);
    expect(k2?.predicted.value).toBeCloseTo(2.2665228645383952, 5);
  });
});

describe('a swing', () => {
  // T/T0 = (2/π) K(sin(amplitude/2)); K after Abramowitz and Stegun, chapter 17; values computed with 40 digits.
  it.each([
    [10, 1.0019071881432167],
    [30, 1.017408797595956],
    [60, 1.0731820071493643],
    [90, 1.1803405990160962],
    [120, 1.3728805006183502],
  ])('of %i degrees takes %f times as long as a small one', async (degrees, expected) => {
    const lab = await openShipped('long-swing');
    const settings = [setting(lab, 'amplitude', `${degrees} degree`)];
    const [ratio] = must(predict(lab.pipeline, { subset: 0, settings })).results;
    expect(ratio?.name).toBe('ratio');
    expect(ratio?.theory?.value).toBeCloseTo(expected, 12);
    expect(ratio?.predicted.value).toBeCloseTo(expected, 5);
  });
});

describe('effects that are off', () => {
  it('are off exactly: the settings of all effects are the author’s off values', async () => {
    const { pipeline } = await openShipped('tow-chain');
    const values = pipeline.values(pipeline.nominal, settingsOff(pipeline.lab, 0));
    for (const effect of pipeline.lab.effects) {
      for (const { quantity, value } of effect.off) expect(values[quantity.index]).toBe(value);
    }
  });
});
