import { describe, expect, it } from 'vitest';
import type { Estimate } from '../../src/quantity/index.ts';
import { stateQuantities } from '../../src/run/index.ts';
import { labFrom, sentencesOn } from './slope-lab.ts';

/** A lab of quantities alone. */
const withQuantities = (...entries: readonly string[]) =>
  `benchwright: 1\ntitle: Quantities\nquantities:\n${entries.map((entry) => `  ${entry}\n`).join('')}`;

function estimateOf(entry: string): Estimate {
  const [quantity] = labFrom(withQuantities(`q: { ${entry} }`)).quantities.base;
  if (quantity === undefined) throw new Error('no quantity was read');
  return quantity.estimate;
}

function stated(text: string, name: string) {
  const found = stateQuantities(labFrom(text)).find(({ quantity }) => quantity.name === name);
  if (found === undefined) throw new Error(`no quantity ${name}`);
  return found;
}

describe('a stated uncertainty becomes a standard uncertainty', () => {
  it('u as it stands, with its degrees of freedom', () => {
    expect(estimateOf('value: 1.2 m, u: 2 mm, dof: 9')).toMatchObject({
      value: 1.2,
      standardUncertainty: 0.002,
      degreesOfFreedom: 9,
    });
  });

  it('limits by a/√3, as of a rectangular distribution (JCGM 100, 4.3.7)', () => {
    const { standardUncertainty, distribution, halfWidth } = estimateOf('value: 1.2 m, within: 2 mm');
    expect(standardUncertainty).toBeCloseTo(0.002 / Math.sqrt(3), 15);
    expect([distribution, halfWidth]).toEqual(['rectangular', 0.002]);
  });

  it('a division of a display by 0.29 of it (JCGM 100, F.2.2.1)', () => {
    const { standardUncertainty } = estimateOf('value: 251.3 g, reading: 0.1 g');
    expect(standardUncertainty).toBeCloseTo(1e-4 / Math.sqrt(12), 15);
  });

  it('an expanded uncertainty by its coverage factor (JCGM 100, 4.3.3: 240 µg at three standard deviations are 80 µg)', () => {
    const { standardUncertainty } = estimateOf('value: 1000.000325 g, expanded: { U: 240 ug, k: 3 }');
    expect(standardUncertainty).toBeCloseTo(80e-9, 15);
  });

  it('repeated readings by the standard error of their mean, with n − 1 degrees of freedom (JCGM 100, H.2, the five voltages)', () => {
    const { value, standardUncertainty, degreesOfFreedom } = estimateOf(
      'observed: [5.007 V, 4.994 V, 5.005 V, 4.990 V, 4.999 V]',
    );
    expect(value).toBeCloseTo(4.999, 12);
    expect(standardUncertainty).toBeCloseTo(0.0032, 4);
    expect(degreesOfFreedom).toBe(4);
  });

  it('several by the root of the sum of squares (JCGM 100, 5.1.2)', () => {
    const { standardUncertainty } = estimateOf('value: 1.2 m, u: 3 mm, within: 4 mm, reading: 1 mm');
    expect(standardUncertainty).toBeCloseTo(Math.hypot(3e-3, 4e-3 / Math.sqrt(3), 1e-3 / Math.sqrt(12)), 15);
  });

  it('readings and a division together: the division is not reduced by repeating', () => {
    const { standardUncertainty } = estimateOf('observed: [1.20 m, 1.21 m, 1.19 m], within: 5 mm');
    const ofMean = 0.01 / Math.sqrt(3);
    expect(standardUncertainty).toBeCloseTo(Math.hypot(ofMean, 5e-3 / Math.sqrt(3)), 12);
  });

  it('none where none is stated', () => {
    expect(estimateOf('value: 1.2 m')).toMatchObject({ standardUncertainty: 0, distribution: 'exact' });
  });

  it('of a temperature as an interval, of its value as a point', () => {
    const { value, standardUncertainty } = estimateOf('value: 21.0 °C, u: 0.5 °C');
    expect(value).toBeCloseTo(294.15, 10);
    expect(standardUncertainty).toBeCloseTo(0.5, 12);
  });

  it('of local gravity as the spread of regional anomalies; 52.1° at sea level has 9.81256 m/s² (Somigliana, WGS 84; two published sets of constants differ by 1.4e-6)', () => {
    const { value, standardUncertainty } = estimateOf('at: { latitude: 52.1 degree }');
    expect(value).toBeCloseTo(9.812563, 5);
    expect(standardUncertainty).toBe(5e-4);
    expect(estimateOf('at: { latitude: 52.1 }').value).toBe(value);
  });
});

describe('a lab of quantities alone does a calculation of JCGM 100', () => {
  it('H.1, the calibration of an end gauge: 50 000 838 nm ± 32 nm with 16 degrees of freedom', () => {
    const text = withQuantities(
      'l_S:   { is: length of the standard, value: 50.000623 mm, u: 25 nm, dof: 18 }',
      'd_0:   { is: observed difference, value: 215 nm, u: 5.8 nm, dof: 24 }',
      'd_1:   { is: random effects of the comparator, value: 0 nm, u: 3.9 nm, dof: 5 }',
      'd_2:   { is: systematic effects of the comparator, value: 0 nm, u: 6.7 nm, dof: 8 }',
      'a_S:   { is: expansion of the standard, value: 11.5e-6 1/K, within: 2e-6 1/K }',
      'theta: { is: deviation of the mean temperature, value: -0.1 K, u: 0.41 K }',
      'd_a:   { is: difference of the expansions, value: 0 1/K, u: 0.58e-6 1/K, dof: 50 }',
      'd_t:   { is: difference of the temperatures, value: 0 K, u: 0.029 K, dof: 2 }',
      'l:     { equals: l_S + (d_0 + d_1 + d_2) - l_S*(d_a*theta + a_S*d_t), unit: mm }',
    );
    const { value, standardUncertainty, degreesOfFreedom, budget } = stated(text, 'l');
    expect(value * 1e9).toBeCloseTo(50_000_838, 0);
    // First-order terms; the example adds 11.7 nm of second order to reach 34 nm, H.1.7.
    expect(standardUncertainty * 1e9).toBeCloseTo(32, 0);
    expect(Math.trunc(degreesOfFreedom)).toBe(16);
    expect(budget.reduce((sum, line) => sum + line.share, 0)).toBeCloseTo(1, 12);
    expect(budget[0]?.from).toBe('l_S');
  });

  it('H.2, resistance and reactance of correlated readings: R, X and Z with their uncertainties', () => {
    const text = `${withQuantities(
      'V:   { observed: [5.007 V, 4.994 V, 5.005 V, 4.990 V, 4.999 V] }',
      'I:   { observed: [19.663 mA, 19.639 mA, 19.640 mA, 19.685 mA, 19.678 mA] }',
      'phi: { observed: [1.0456 rad, 1.0438 rad, 1.0468 rad, 1.0428 rad, 1.0433 rad] }',
      'R:   { equals: V/I*cos(phi), unit: ohm }',
      'X:   { equals: V/I*sin(phi), unit: ohm }',
      'Z:   { equals: V/I, unit: ohm }',
    )}correlations:
  - { between: [V, I], is: -0.355311 }
  - { between: [V, phi], is: 0.857620 }
  - { between: [I, phi], is: -0.645109 }
`;
    for (const [name, value, u] of [
      ['R', 127.732, 0.071],
      ['X', 219.847, 0.295],
      ['Z', 254.26, 0.236],
    ] as const) {
      const statement = stated(text, name);
      expect(statement.value).toBeCloseTo(value, 3);
      // Printed to a last digit of 0.001; full digits give 0.29558 where the table has 0.295.
      expect(Math.abs(statement.standardUncertainty - u)).toBeLessThan(1e-3);
      expect(statement.budget.reduce((sum, line) => sum + line.share, 0)).toBeCloseTo(1, 12);
    }
  });

  it('with quantities in any order, computed ones of computed ones', () => {
    const text = withQuantities(
      'c: { equals: 2*b }',
      'b: { equals: a + 1 m }',
      'a: { value: 3 m, u: 0.1 m }',
    );
    expect(sentencesOn(text)).toEqual([expect.stringContaining('Make it a quantity')]);
    const good = withQuantities(
      'c: { equals: 2*b }',
      'b: { equals: a + e }',
      'a: { value: 3 m, u: 0.1 m }',
      'e: { value: 1 m }',
    );
    expect(stated(good, 'c')).toMatchObject({ value: 8, standardUncertainty: 0.2 });
  });
});

describe('tables of points', () => {
  const table = (points: string) => `${withQuantities(
    'x: { value: 0.15 A, u: 0.01 A }',
    'F: { equals: "interpolate(pull, x)", unit: N }',
  )}tables:
  pull: { x: { unit: mA }, y: { unit: N }, points: ${points} }
`;

  it('are read in their units and met at their points', () => {
    expect(stated(table('[[0, 0], [100, 1], [150, 2], [200, 4]]'), 'F').value).toBeCloseTo(2, 12);
  });

  it('of a straight line carry the uncertainty along it', () => {
    const { value, standardUncertainty } = stated(table('[[0, 0], [100, 2], [200, 4]]'), 'F');
    expect(value).toBeCloseTo(3, 12);
    expect(standardUncertainty).toBeCloseTo(0.2, 12);
  });

  it('outside their points are no finite number, which is told', () => {
    expect(sentencesOn(table('[[0, 0], [100, 1]]'))).toEqual([
      expect.stringContaining(
        'F = interpolate(pull, x) comes out as NaN, not as a finite number, with x = 0.15',
      ),
    ]);
  });

  it('whose points do not rise, and that are not there, are told at their place', () => {
    expect(sentencesOn(table('[[0, 0], [100, 1], [100, 2]]'))).toEqual([
      expect.stringMatching(/^lab\.yaml:7:\d+ {2}/),
    ]);
    expect(sentencesOn(table('[[0, 0], [200, 1]]').replace('interpolate(pull', 'interpolate(pul'))).toEqual([
      expect.stringContaining('"pul" is not a table of points here. Did you mean "pull"?'),
    ]);
  });
});
