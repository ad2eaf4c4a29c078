import { describe, expect, it } from 'vitest';
import {
  describeDimension,
  dimensionless,
  divideDimensions,
  formatDimension,
  multiplyDimensions,
  raiseDimension,
  sameDimension,
} from '../../src/quantity/index.ts';
import { unitNamed } from './support.ts';

const force = unitNamed('N').dimension;
const mass = unitNamed('kg').dimension;

describe('dimensions', () => {
  it('force over mass is an acceleration, and named so', () => {
    expect(describeDimension(divideDimensions(force, mass))).toBe('acceleration (m/s²)');
  });

  it('a power and its root bring the dimension back exactly, so that equal dimensions print alike', () => {
    const third = raiseDimension(raiseDimension(force, 1 / 3), 3);
    expect(third).toEqual(force);
    expect(
      sameDimension(multiplyDimensions(raiseDimension(force, 0.1), raiseDimension(force, 0.9)), force),
    ).toBe(true);
  });

  it('dividing a dimension by itself leaves a plain number without a negative zero', () => {
    expect(divideDimensions(force, force)).toEqual(dimensionless);
    expect(Object.is(raiseDimension(force, 0)[2], 0)).toBe(true);
  });

  it('prints base units mass first, denominators in brackets, fractions with a caret', () => {
    expect(formatDimension(dimensionless)).toBe('1');
    expect(formatDimension(unitNamed('V').dimension)).toBe('kg·m²/(s³·A)');
    expect(formatDimension(unitNamed('1/s').dimension)).toBe('1/s');
    expect(formatDimension(unitNamed('V/Hz^0.5').dimension)).toBe('kg·m²/(s^2.5·A)');
    expect(formatDimension(unitNamed('s^-12').dimension)).toBe('1/s¹²');
  });

  it('falls back to base units where no name is usual', () => {
    expect(describeDimension(unitNamed('kg^2 m').dimension)).toBe('kg²·m');
  });

  // ISO 80000-3 to -9: names of quantities by a unit that the standard gives for them.
  it.each([
    ['N', 'force'],
    ['m/s', 'speed'],
    ['J', 'energy or torque'],
    ['N m', 'energy or torque'],
    ['kg m^2', 'moment of inertia'],
    ['W', 'power'],
    ['Pa', 'pressure'],
    ['N s', 'momentum'],
    ['N m s', 'angular momentum'],
    ['N/m', 'force per length'],
    ['C', 'electric charge'],
    ['V', 'voltage'],
    ['Ω', 'electric resistance'],
    ['S', 'electric conductance'],
    ['Ω m', 'resistivity'],
    ['F', 'capacitance'],
    ['H', 'inductance'],
    ['V/m', 'electric field strength'],
    ['T', 'magnetic flux density'],
    ['Wb', 'magnetic flux'],
    ['J/K', 'heat capacity or entropy'],
    ['J/(kg K)', 'specific heat capacity'],
    ['W/(m K)', 'thermal conductivity'],
    ['W/(m^2 K)', 'heat transfer coefficient'],
    ['Pa s', 'viscosity'],
    ['J/(mol K)', 'molar heat capacity'],
    ['g/cm^3', 'density'],
    ['rpm', 'frequency or angular velocity'],
    ['lx', 'luminance or illuminance'],
    ['W/(m^2 K^4)', 'radiated power per area and fourth power of temperature'],
    ['%', 'dimensionless'],
  ])('%s measures %s', (unit, name) => {
    const { dimension } = unitNamed(unit);
    expect(describeDimension(dimension)).toBe(`${name} (${formatDimension(dimension)})`);
  });
});
