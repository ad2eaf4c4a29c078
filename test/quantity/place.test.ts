import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  airDensity,
  constants,
  findConstant,
  grs80,
  normalGravity,
  parseUnit,
  waterDensity,
  wgs84,
} from '../../src/quantity/index.ts';
import codata from '../published/codata-2022.json' with { type: 'json' };
import published from '../published/gravity-air-water.json' with { type: 'json' };
import { relativeDifference, sentencesOf, unitNamed, valueFrom } from './support.ts';

const radians = (degrees: number) => (degrees * Math.PI) / 180;

describe('normal gravity', () => {
  it.each(published.normalGravity.table)('at latitude $latitude_deg° (Moritz 1980; NIMA TR8350.2)', (row) => {
    const latitude = radians(row.latitude_deg);
    expect(normalGravity(latitude, 0, grs80)).toBeCloseTo(row.GRS80, 9);
    expect(normalGravity(latitude)).toBeCloseTo(row.WGS84, 9);
    for (const { h_m, GRS80 } of row.atHeights)
      expect(normalGravity(latitude, h_m, grs80)).toBeCloseTo(GRS80, 9);
  });

  it('at 45° is 9.806199203 m/s² (printed value of GRS 80)', () => {
    expect(normalGravity(radians(45), 0, grs80)).toBeCloseTo(9.806199203, 8);
  });

  it('at the pole is 9.8321863685 m/s² (GRS 80) and 9.8321849378 m/s² (WGS 84), as printed', () => {
    expect(normalGravity(Math.PI / 2, 0, grs80)).toBeCloseTo(9.8321863685, 9);
    expect(normalGravity(-Math.PI / 2, 0, wgs84)).toBeCloseTo(9.8321849378, 9);
  });

  it('falls by 0.3086 mGal a metre near the ground (free-air gradient, common practice)', () => {
    expect((normalGravity(radians(45), 0) - normalGravity(radians(45), 1)) * 1e5).toBeCloseTo(0.3086, 3);
  });

  it('is alike north and south, and grows towards the pole', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1.5, noNaN: true }), (latitude) => {
        expect(normalGravity(latitude, 100)).toBe(normalGravity(-latitude, 100));
        expect(normalGravity(latitude + 0.05, 100)).toBeGreaterThan(normalGravity(latitude, 100));
      }),
      { seed: 31 },
    );
  });

  it('a latitude given in degrees by mistake is refused', () => {
    expect(() => normalGravity(52.1)).toThrow(RangeError);
  });
});

describe('density of air', () => {
  it.each(published.airDensity.table)(
    'at $t_C °C, $p_Pa Pa and humidity $rh (CIPM-2007, Metrologia 45, 149; evaluated with 40 digits)',
    ({ t_C, p_Pa, rh, xCO2, rho }) => {
      const state = {
        temperatureK: t_C + 273.15,
        pressurePa: p_Pa,
        relativeHumidity: rh,
        carbonDioxide: xCO2,
      };
      const density = airDensity(state);
      expect(relativeDifference(valueFrom(density), rho)).toBeLessThan(1e-13);
      expect(density.ok && density.warnings).toEqual([]);
    },
  );

  it('of dry air at 15 °C and 1013.25 hPa is 1.225 kg/m³ (ISO 2533, standard atmosphere)', () => {
    const density = valueFrom(airDensity({ temperatureK: 288.15, pressurePa: 101325, relativeHumidity: 0 }));
    expect(relativeDifference(density, 1.225)).toBeLessThan(5e-4);
  });

  it('moist air is lighter than dry air', () => {
    const at = (relativeHumidity: number) =>
      valueFrom(airDensity({ temperatureK: 293.15, pressurePa: 100000, relativeHumidity }));
    expect(at(0.9)).toBeLessThan(at(0.1));
  });

  it('outside the published range it warns, and refuses what cannot be', () => {
    const cold = airDensity({ temperatureK: 273.15, pressurePa: 101325, relativeHumidity: 0.5 });
    expect(cold.ok && cold.warnings.map(({ message }) => message)).toEqual([
      'The density of air is computed at 0.0 °C and 1013 hPa; the formula is published for 15 to 27 °C and 600 to 1100 hPa.',
    ]);
    expect(
      sentencesOf(airDensity({ temperatureK: 293.15, pressurePa: 101325, relativeHumidity: 50 })),
    ).toEqual(['A relative humidity lies between 0 and 100 %, not at 5000 %.']);
    expect(
      sentencesOf(airDensity({ temperatureK: 293.15, pressurePa: 1000, relativeHumidity: 1 }))[0],
    ).toContain('cannot hold a relative humidity of 100 %');
  });
});

describe('density of water', () => {
  it.each(published.waterDensity.table)(
    'at $t_C °C (Tanaka et al. 2001, evaluated with 40 digits)',
    ({ t_C, rho }) => {
      expect(relativeDifference(valueFrom(waterDensity(t_C + 273.15)), rho)).toBeLessThan(1e-13);
    },
  );

  // Metrologia 38, 301, Table 5 (values from memory).
  it.each([
    [15, 999.1026],
    [20, 998.2067],
    [25, 997.0476],
    [30, 995.6488],
  ])('at %d °C is %d kg/m³ as printed, to a unit of the last place', (t, rho) => {
    expect(Math.abs(valueFrom(waterDensity(t + 273.15)) - rho)).toBeLessThan(6e-4);
  });

  it('is not told for ice or steam', () => {
    expect(sentencesOf(waterDensity(373.15))).toEqual([
      'The density of water is known here from 0 to 40 °C, not at 100 °C.',
    ]);
  });
});

describe('constants', () => {
  it.each(codata.table.filter(({ name }) => !name.startsWith('Wien')))(
    '$name as CODATA 2022 lists it',
    (row) => {
      const ours = findConstant(row.name.replace('mag.', 'magnetic'));
      if (ours === undefined) throw new Error(`${row.name} is not listed`);
      expect(relativeDifference(ours.estimate.value, row.value)).toBeLessThan(5e-16);
      expect(ours.estimate.standardUncertainty).toBe(row.u);
      const unit = unitNamed(row.unit.replaceAll(/\^-/g, '^-'));
      expect(unitNamed(ours.unit).dimension).toEqual(unit.dimension);
    },
  );

  it('every constant has a unit that is read, and a symbol of its own', () => {
    expect(constants.filter(({ unit }) => !parseUnit(unit).ok)).toEqual([]);
    expect(new Set(constants.map(({ symbol }) => symbol)).size).toBe(constants.length);
  });
});
