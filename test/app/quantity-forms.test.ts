import { describe, expect, it } from 'vitest';
import { readEntry, restateUncertainty } from '../../app/stages/apparatus/quantity-entry.ts';
import { sliderRange, writeAtSlider } from '../../app/stages/apparatus/slider-range.ts';
import { readLab } from '../../src/lab/index.ts';

describe('an uncertainty stated in another way keeps its size', () => {
  it('limits of ±2 mm are a standard uncertainty of 1.2 mm (JCGM 100, 4.3.7)', () => {
    const entry = readEntry('L', { value: '1.2 m', within: '2 mm' });
    expect(restateUncertainty(entry, 'within', 'u')?.[1]).toMatchObject({ key: 'u', value: '1.2 mm' });
  });

  it('a display step of 0.1 g is limits of ±0.05 g (JCGM 100, F.2.2.1)', () => {
    const entry = readEntry('m', { value: '251.3 g', reading: '0.1 g' });
    expect(restateUncertainty(entry, 'reading', 'within')?.[1]).toMatchObject({ value: '0.05 g' });
  });

  it('U = 4 mg with k = 2 is a standard uncertainty of 2 mg (JCGM 100, 4.3.3)', () => {
    const entry = readEntry('m', { value: '5 g', expanded: { U: '4 mg', k: 2 } });
    expect(restateUncertainty(entry, 'expanded', 'u')?.[1]).toMatchObject({ value: '2 mg' });
  });
});

describe('a slider', () => {
  const rangeOf = (form: string) => {
    const lab = readLab(`benchwright: 1\ntitle: t\nquantities:\n  q: ${form}\n`, 'lab.yaml');
    const quantity = lab.ok ? lab.value.quantities.base[0] : undefined;
    return quantity === undefined ? null : sliderRange(quantity);
  };

  it('reaches ten standard uncertainties or a quarter of the value, whichever is farther', () => {
    expect(rangeOf('{ value: 10 m, u: 1 mm }')).toMatchObject({ low: 7.5, high: 12.5 });
    expect(rangeOf('{ value: 10 m, u: 0.5 m }')).toMatchObject({ low: 5, high: 15 });
  });

  it('of a positive quantity never reaches 0', () => {
    const range = rangeOf('{ value: 14 mN, u: 4 mN }');
    expect(range?.low).toBeGreaterThan(0);
    expect(range?.high).toBeCloseTo(54, 0);
  });

  it('there is none for an exact 0', () => {
    expect(rangeOf('{ value: 0 m }')).toBeNull();
  });

  it('writes numbers that the lab file reads back', () => {
    const range = rangeOf('{ value: 7.2e-7 kg m^2, u: 0.8e-7 kg m^2 }');
    expect(range).not.toBeNull();
    if (range !== null) expect(writeAtSlider(1.244e-6, range, 'kg m^2')).toBe('1.244e-6 kg m^2');
  });
});
