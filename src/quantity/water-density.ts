import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';

/**
 * Density of air-free water of ordinary isotopic composition at 101 325 Pa.
 *
 * @param temperatureK 273.15 K to 313.15 K (0 °C to 40 °C)
 * @returns kg/m³, standard uncertainty below 1e-3 kg/m³ for pure water; fails with `outside-range`
 * Source: M. Tanaka et al., Recommended table for the density of water between 0 °C and 40 °C, Metrologia 38, 301
 * (2001), doi:10.1088/0026-1394/38/4/3
 */
export function waterDensity(temperatureK: number, place: Place = {}): Outcome<number> {
  const t = temperatureK - 273.15;
  // A table's ends, reached through a subtraction, must not fall out by its rounding.
  if (!(t >= -1e-9 && t <= 40 + 1e-9))
    return fail(
      problem(
        'outside-range',
        place,
        `The density of water is known here from 0 to 40 °C, not at ${Number(t.toFixed(2))} °C.`,
      ),
    );
  const a1 = -3.983035;
  const a2 = 301.797;
  const a3 = 522528.9;
  const a4 = 69.34881;
  const a5 = 999.97495;
  return succeed(a5 * (1 - ((t + a1) ** 2 * (t + a2)) / (a3 * (t + a4))));
}
