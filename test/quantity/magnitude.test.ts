import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromSI, parseMagnitude, toSI } from '../../src/quantity/index.ts';
import { problemsOf, relativeDifference, sentencesOf, unitNamed, valueFrom } from './support.ts';

describe('reading a number with its unit', () => {
  it.each([
    ['1.200 m', 1.2, '1.200'],
    ['1,200 m', 1.2, '1,200'],
    ['96.4 g', 0.0964, '96.4'],
    ['0.2e-6 kg m^2', 2e-7, '0.2e-6'],
    ['2.5×10^-3 m', 0.0025, '2.5×10^-3'],
    ['2.5 × 10⁻³ m', 0.0025, '2.5 × 10⁻³'],
    ['2.5*10^(-3) m', 0.0025, '2.5*10^(-3)'],
    ['2,5·10^-3 m', 0.0025, '2,5·10^-3'],
    ['10^-3 m', 0.001, '10^-3'],
    ['-10⁻³ m', -0.001, '-10⁻³'],
    ['12 000 s', 12000, '12 000'],
    ['1\u202F234\u202F567,5 mm', 1234.5675, '1\u202F234\u202F567,5'],
    ['.5 m', 0.5, '.5'],
    ['5. m', 5, '5.'],
    ['+3 V', 3, '+3'],
    ['−4 mN', -0.004, '−4'],
    ['5', 5, '5'],
    ['5%', 0.05, '5'],
    ['3 eV', 3 * 1.602176634e-19, '3'],
    ['1E3 V', 1000, '1E3'],
    ['52.1°', (52.1 * Math.PI) / 180, '52.1'],
    ['10 us', 1e-5, '10'],
    ['5 1/s', 5, '5'],
    ['-0.0 m', 0, '-0.0'],
  ])('"%s" is %d in SI units', (text, value, digits) => {
    const magnitude = valueFrom(parseMagnitude(text, 'point'));
    expect(relativeDifference(magnitude.value, value)).toBeLessThan(3e-16);
    expect(magnitude.digits).toBe(digits);
    expect(Object.is(magnitude.value, -0)).toBe(false);
  });

  it('in a unit that is a power of ten the value is the double nearest to the decimal text', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999999, max: 999999 }),
        fc.integer({ min: 0, max: 6 }),
        fc.constantFrom(['g', -3], ['mm', -3], ['µs', -6], ['cm^2', -4], ['kN', 3], ['pF', -12], ['L', -3]),
        (whole, decimals, [symbol, decade]) => {
          const text = `${whole}e-${decimals}`;
          expect(valueFrom(parseMagnitude(`${text} ${symbol}`, 'interval')).value).toBe(
            Number(`${whole}e${Number(decade) - decimals}`) + 0,
          );
        },
      ),
      { seed: 4, numRuns: 1000 },
    );
  });

  it('20 °C is 293.15 K as a point and 20 K as an interval', () => {
    expect(valueFrom(parseMagnitude('20 °C', 'point')).value).toBeCloseTo(293.15, 12);
    expect(valueFrom(parseMagnitude('20 °C', 'interval')).value).toBe(20);
  });

  it('water boils at 212 °F and −40 is the same on both scales (definition of the Fahrenheit scale, NIST SP 811)', () => {
    expect(valueFrom(parseMagnitude('212 °F', 'point')).value).toBeCloseTo(373.15, 10);
    expect(valueFrom(parseMagnitude('-40 °F', 'point')).value).toBeCloseTo(233.15, 10);
    expect(valueFrom(parseMagnitude('9 °F', 'interval')).value).toBeCloseTo(5, 12);
  });
});

describe('what a mistaken magnitude is told', () => {
  it.each([
    [
      '1,234.5 m',
      '"1,234.5 m" has two decimal marks. Point and comma are both decimal marks; part thousands by a space or not at all.',
    ],
    [
      '1.2 ± 0.1 m',
      '"1.2 ± 0.1 m" states an uncertainty by ±, which does not say of which kind. Write the value alone and beside it u, within, reading, expanded or observed.',
    ],
    [
      '1.20(5) m',
      '"1.20(5) m" states an uncertainty in brackets. Write the value alone and beside it u: with the standard uncertainty and its unit.',
    ],
    ['1/2 m', '"1/2 m" is a fraction; a value is one number. Write it as a decimal number.'],
    ['5/s', 'The unit "/s" starts with a slash. Write "5 1/s".'],
    ['m', '"m" does not start with a number. Write a number with its unit: 1.20 m.'],
    ['', 'The number is missing. Write a number with its unit: 1.20 m.'],
    ['NaN m', '"NaN m" does not start with a number. Write a number with its unit: 1.20 m.'],
    ['1e999 m', '1e999 is larger than a computer number can be (about 1.8e308).'],
    ['1e-999 m', '1e-999 is smaller than a computer number can be (about 5e-324).'],
    ['1e308 km', '1e308 km is too large to compute with in SI units.'],
    ['1e-320 qm', '1e-320 qm is too small to compute with in SI units.'],
    ['3 Kg', '"Kg" is not a unit known here. Did you mean kg? Capitals count.'],
  ])('"%s"', (text, sentence) => {
    expect(sentencesOf(parseMagnitude(text, 'point'))).toEqual([sentence]);
  });

  it('a problem in the unit is placed in the whole text', () => {
    expect(problemsOf(parseMagnitude(' 1.20  furlong', 'point'))[0].place).toEqual({ column: 8 });
    const origin = { placeAt: (offset: number) => ({ file: 'lab.yaml', line: 3, column: 10 + offset }) };
    expect(problemsOf(parseMagnitude('1.20 m qux', 'point', origin))[0].place.column).toBe(17);
  });
});

describe('laws of magnitudes', () => {
  it('to SI and back is the same number, as a point and as an interval', () => {
    const units = [
      'm',
      'g',
      'mm',
      'µs',
      'min',
      'degree',
      'rpm',
      'eV',
      'km/h',
      'mmHg',
      '%',
      'in',
      'L/min',
    ].map(unitNamed);
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, min: -1e12, max: 1e12 }),
        fc.constantFrom(...units),
        (value, unit) => {
          // Subnormal numbers have fewer digits to keep.
          fc.pre(value === 0 || Math.abs(value) > 1e-280);
          for (const as of ['point', 'interval'] as const)
            expect(relativeDifference(fromSI(toSI(value, unit, as), unit, as), value)).toBeLessThan(5e-16);
        },
      ),
      { seed: 5, numRuns: 1000 },
    );
    const celsius = unitNamed('°C');
    expect(fromSI(toSI(25, celsius, 'point'), celsius, 'point')).toBeCloseTo(25, 12);
  });

  it('a length told in millimetres, centimetres and metres is one length, to the last bit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9_999_999 }), (micrometres) => {
        const lengths = [
          [`${micrometres}e-6`, 'm'],
          [`${micrometres}e-4`, 'cm'],
          [`${micrometres}e-3`, 'mm'],
          [`${micrometres}`, 'µm'],
          [`${micrometres}e-9`, 'km'],
        ].map(([number, unit]) => valueFrom(parseMagnitude(`${number} ${unit}`, 'interval')).value);
        expect(new Set(lengths).size).toBe(1);
      }),
      { seed: 6 },
    );
  });

  it('no text makes it throw, and a value that is read is finite', () => {
    const pieces = fc.constantFrom(
      '1',
      '2',
      '.',
      ',',
      ' ',
      'e',
      '-',
      '−',
      '×10^',
      '±',
      '(',
      ')',
      'm',
      'kg',
      '/',
      '°',
      'C',
      '^',
      '²',
      '\u00A0',
      '∞',
      '😀',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 30 }),
      fc.array(pieces, { maxLength: 20 }).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(text, fc.constantFrom('point' as const, 'interval' as const), (written, as) => {
        const outcome = parseMagnitude(written, as);
        if (outcome.ok) expect(Number.isFinite(outcome.value.value)).toBe(true);
        for (const { message, place } of problemsOf(outcome)) {
          expect(message.length).toBeGreaterThan(10);
          expect(place.column).toBeGreaterThanOrEqual(1);
          expect(place.column).toBeLessThanOrEqual(written.length + 1);
        }
      }),
      { seed: 7, numRuns: 3000 },
    );
  });
});
