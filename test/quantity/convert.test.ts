import { describe, expect, it } from 'vitest';
import { convertibleTo, convertValue } from '../../src/quantity/index.ts';
import { problemsOf, sentencesOf, unitNamed, valueFrom } from './support.ts';

describe('telling a value in another unit', () => {
  it.each([
    [36, 'km/h', 'm/s', 10],
    [1, 'atm', 'mmHg', 760],
    [60, 'rpm', 'rad/s', 2 * Math.PI],
    [90, '°', 'rad', Math.PI / 2],
    [1, 'turn', 'degree', 360],
    [1, 'kWh', 'MJ', 3.6],
    [25, '°C', 'K', 298.15],
    [98.6, '°F', '°C', 37],
    [1, 'N·m', 'J', 1],
    [5, '%', '1', 0.05],
  ])('%d %s in %s is %d', (value, from, to, expected) => {
    expect(valueFrom(convertValue(value, unitNamed(from), unitNamed(to), 'point'))).toBeCloseTo(
      expected,
      // The conventional mmHg and the torr differ by 1.4e-7 (NIST SP 811, B.8): 760 only to four decimals.
      from === 'atm' ? 3 : 10,
    );
  });

  it('different dimensions are refused with both named', () => {
    expect(sentencesOf(convertibleTo(unitNamed('N'), unitNamed('m/s^2')))).toEqual([
      'N has the dimension of force (kg·m/s²), m/s² that of acceleration (m/s²); a value in one cannot be told in the other.',
    ]);
  });

  it.each([
    ['Hz', 'rad/s'],
    ['rpm', 'Hz'],
    ['1/min', 'rpm'],
    ['rad', ''],
    ['N m/rad', 'N m'],
  ])('%s and "%s" are not converted silently: they differ in plane angle', (from, to) => {
    const there = problemsOf(convertibleTo(unitNamed(from), unitNamed(to)));
    const back = problemsOf(convertibleTo(unitNamed(to), unitNamed(from)));
    expect([...there, ...back].map(({ code }) => code)).toEqual(['different-angle', 'different-angle']);
  });

  it('the refusal says what a rotation of 1 Hz is', () => {
    const [refusal] = problemsOf(
      convertibleTo(unitNamed('Hz'), unitNamed('rad/s'), { file: 'lab.yaml', line: 4 }),
    );
    expect(refusal.place).toEqual({ file: 'lab.yaml', line: 4 });
    expect(refusal.message).toBe(
      'Hz carries no angle, rad/s carries an angle; they are not converted without being asked.',
    );
    expect(refusal.tryThis).toContain('a rotation of 1 Hz is 2π rad/s');
  });
});
