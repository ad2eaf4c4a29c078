import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatDimension, formatUnit, parseUnit, sameDimension } from '../../src/quantity/index.ts';
import { problemsOf, relativeDifference, sentencesOf, unitNamed } from './support.ts';

describe('reading a unit', () => {
  it.each([
    ['m/s^2', 1, 'm/s²'],
    ['m s-2', 1, 'm/s²'],
    ['m s⁻²', 1, 'm/s²'],
    ['m/s/s', 1, 'm/s²'],
    ['m**2', 1, 'm²'],
    ['N·m', 1, 'kg·m²/s²'],
    ['N.m', 1, 'kg·m²/s²'],
    ['N*m', 1, 'kg·m²/s²'],
    ['kg m^2', 1, 'kg·m²'],
    ['J/(kg K)', 1, 'm²/(s²·K)'],
    ['g/cm^3', 1000, 'kg/m³'],
    ['g cm^-3', 1000, 'kg/m³'],
    ['km/h', 1 / 3.6, 'm/s'],
    ['L/min', 1e-3 / 60, 'm³/s'],
    ['1/s', 1, '1/s'],
    ['1/(min)', 1 / 60, '1/s'],
    ['V/Hz^(1/2)', 1, 'kg·m²/(s^2.5·A)'],
    ['mm^(1/2)', Math.sqrt(1e-3), 'm^0.5'],
    ['(kg m)^-2', 1, '1/(kg²·m²)'],
    ['percent', 0.01, '1'],
    ['', 1, '1'],
    ['1', 1, '1'],
    ['  mm ', 1e-3, 'm'],
    ['cm²', 1e-4, 'm²'],
    ['°/s', Math.PI / 180, '1/s'],
  ])('"%s" has the factor %d and the dimension %s', (text, factor, dimension) => {
    const unit = unitNamed(text);
    expect(relativeDifference(unit.factor, factor)).toBeLessThan(3e-16);
    expect(formatDimension(unit.dimension)).toBe(dimension);
    expect(unit.text).toBe(text.trim());
  });

  it('a temperature scale keeps its zero only where it stands alone', () => {
    expect(unitNamed('°C').offset).toBe(273.15);
    expect(unitNamed('degC').offset).toBe(273.15);
    expect(unitNamed('degF').offset).toBeCloseTo(255.3722222, 7);
    for (const text of ['J/°C', '°C^2', '°C/min', 'W/(m °C)', '1/°C']) expect(unitNamed(text).offset).toBe(0);
  });

  it.each([
    ['kg m^2', 'kg·m²'],
    ['m s^-2', 'm·s⁻²'],
    ['J/(kg K)', 'J/(kg·K)'],
    ['degC', '°C'],
    ['us', 'µs'],
    ['kohm', 'kΩ'],
    ['percent', '%'],
    ['degree', '°'],
    ['1/s^2', '1/s²'],
    ['V/Hz^0.5', 'V/Hz^0.5'],
    ['m^-0.5', 'm^-0.5'],
    ['1', ''],
    ['1 m', 'm'],
    ['litre', 'L'],
    ['no unit', 'no unit'],
  ])('"%s" prints as "%s"', (text, printed) => {
    expect(formatUnit(text)).toBe(printed);
  });
});

describe('what a mistaken unit is told', () => {
  it.each([
    ['Kg', '"Kg" is not a unit known here. Did you mean kg? Capitals count.'],
    ['Nm', '"Nm" is not a unit known here. Write N·m or "N m".'],
    ['kgm', '"kgm" is not a unit known here. Write kg·m or "kg m": a product needs a dot or a space.'],
    ['sec', '"sec" is not a unit known here. Write s.'],
    ['seconds', '"seconds" is not a unit known here. Write s.'],
    ['millimeters', '"millimeters" is not a unit known here. Write mm.'],
    ['degre', '"degre" is not a unit known here. Did you mean degree?'],
    [
      'dB',
      '"dB" is not a unit known here. Write the ratio itself: a level in decibel cannot be multiplied or added like other quantities.',
    ],
    ['qqqq', '"qqqq" is not a unit known here.'],
    [
      'kmin',
      '"kmin" is not a unit known here. The minute (min) does not take the prefix kilo: write min, and the power of ten in the number.',
    ],
    ['J/kg K', 'The unit "J/kg K" can be read in two ways after the slash. Write J/(kg·K) or J·K/kg.'],
    ['° C', '"° C" would be an angle times a coulomb. For a temperature write °C or degC, without a space.'],
    [
      'J/(kg/m) K',
      'The unit "J/(kg/m) K" can be read in two ways after the slash. Write J/((kg/m)·K) or J·K/(kg/m).',
    ],
    ['m/', 'The unit "m/" lacks a symbol after "/".'],
    ['/s', 'The unit "/s" lacks a symbol at the start. Write 1/… for an inverse unit.'],
    ['m/(s', 'The bracket is not closed in the unit "m/(s".'],
    ['m)', 'A closing bracket without an opening one in the unit "m)".'],
    ['m^x', 'A number must follow "^" in the unit "m^x".'],
    [
      '10 us',
      'The number 10 stands in the unit "10 us"; a unit holds no number but 1. Put it into the value.',
    ],
    ['m^99', 'The exponent 99 is larger than any unit has (at most 20).'],
    ['Qm^20', 'The unit "Qm^20" is too large or too small to compute with: its size in SI units is 1e600.'],
  ])('%s', (text, sentence) => {
    expect(sentencesOf(parseUnit(text))[0]).toBe(sentence);
  });

  it('two mistakes give two messages, each at its own place', () => {
    const problems = problemsOf(parseUnit('foo/(bar2 kgg)'));
    expect(problems.map(({ code, place }) => [code, place.column])).toEqual([
      ['unknown-unit', 1],
      ['unknown-unit', 11],
    ]);
  });

  it('the place is the one in the file where an origin is given', () => {
    const origin = { placeAt: (offset: number) => ({ file: 'lab.yaml', line: 7, column: 20 + offset }) };
    expect(problemsOf(parseUnit('kg furlong', origin))[0].place).toEqual({
      file: 'lab.yaml',
      line: 7,
      column: 23,
    });
  });

  it('a text of any length is refused at once, not read', () => {
    expect(sentencesOf(parseUnit('('.repeat(100_000)))).toEqual([
      'This unit is 100000 characters long; a unit has at most 200.',
    ]);
  });
});

const symbols = [
  'm',
  'kg',
  's',
  'A',
  'K',
  'mol',
  'cd',
  'mm',
  'g',
  'N',
  'kPa',
  'J',
  'mV',
  'Ω',
  'rad',
  'rpm',
  'min',
  'L',
  'eV',
  '%',
];
const power = fc.record({ symbol: fc.constantFrom(...symbols), exponent: fc.integer({ min: -3, max: 3 }) });

describe('laws of reading units', () => {
  it('the factor of a product is the product of the factors, and dimensions and angles add up', () => {
    fc.assert(
      fc.property(fc.array(power, { minLength: 1, maxLength: 5 }), (powers) => {
        const unit = unitNamed(powers.map(({ symbol, exponent }) => `${symbol}^${exponent}`).join(' '));
        const parts = powers.map(({ symbol, exponent }) => ({ ...unitNamed(symbol), exponent }));
        const factor = parts.reduce((product, part) => product * part.factor ** part.exponent, 1);
        expect(relativeDifference(unit.factor, factor)).toBeLessThan(1e-13);
        const dimension = unit.dimension.map((_, index) =>
          parts.reduce((sum, part) => sum + part.dimension[index] * part.exponent, 0),
        );
        expect(sameDimension(unit.dimension, dimension)).toBe(true);
        expect(unit.angle).toBe(parts.reduce((sum, part) => sum + part.angle * part.exponent, 0));
      }),
      { seed: 1, numRuns: 500 },
    );
  });

  it('a printed unit reads back as the same unit', () => {
    fc.assert(
      fc.property(
        fc.array(power, { minLength: 1, maxLength: 4 }),
        fc.array(power, { maxLength: 3 }),
        (above, below) => {
          const write = (powers: typeof above) =>
            powers.map(({ symbol, exponent }) => `${symbol}^${exponent}`).join(' ');
          const text = below.length === 0 ? write(above) : `${write(above)}/(${write(below)})`;
          const unit = unitNamed(text);
          const again = unitNamed(formatUnit(text));
          expect(again).toEqual({ ...unit, text: formatUnit(text) });
          expect(formatUnit(again)).toBe(formatUnit(text));
        },
      ),
      { seed: 2, numRuns: 500 },
    );
  });

  it('no text makes it throw, every problem is a sentence, and its place lies in the text', () => {
    const pieces = fc.constantFrom(
      ...symbols,
      '°',
      'C',
      ' ',
      '/',
      '*',
      '·',
      '^',
      '(',
      ')',
      '-',
      '2',
      '1',
      '²',
      '⁻',
      '.',
      'é',
      '😀',
      '\u0000',
      '**',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 40 }),
      fc.array(pieces, { maxLength: 25 }).map((parts) => parts.join('')),
    );
    fc.assert(
      fc.property(text, (written) => {
        const outcome = parseUnit(written);
        if (outcome.ok) {
          expect(outcome.value.factor).toBeGreaterThan(0);
          expect(outcome.value.factor).toBeLessThan(Infinity);
        } else expect(outcome.problems.length).toBeGreaterThan(0);
        for (const { message, place } of problemsOf(outcome)) {
          expect(message).toMatch(/[.)]$/);
          expect(place.column).toBeGreaterThanOrEqual(1);
          expect(place.column).toBeLessThanOrEqual(written.length + 1);
        }
      }),
      { seed: 3, numRuns: 3000 },
    );
  });
});
