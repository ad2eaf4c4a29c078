import { fail, type Outcome, type Place, problem, succeed, warning } from '../problem/index.ts';
import { exp } from '../wasm/index.ts';
import { formatNumber } from './format-number.ts';

/** The state of the air in the room. */
export interface AirState {
  /** Thermodynamic temperature, K. */
  readonly temperatureK: number;
  readonly pressurePa: number;
  /** 0 to 1. */
  readonly relativeHumidity: number;
  /** Mole fraction of carbon dioxide; 4e-4 unless given. A closed classroom reaches 1e-3 to 3e-3. */
  readonly carbonDioxide?: number;
}

const zeroCelsiusK = 273.15;
/** Molar gas constant as in the paper; its later value differs by 1 in 10⁶. */
const R = 8.314472;
/** Molar mass of water, kg/mol. */
const Mv = 18.01528e-3;

/**
 * Density of moist air by the formula that metrology institutes use for buoyancy; the formula's own relative standard
 * uncertainty is 22e-6 (Table 1 of the paper), far below that of a room's temperature and pressure.
 *
 * @returns kg/m³; with a warning `outside-range` beyond 15 to 27 °C and 600 to 1100 hPa, where the paper claims nothing;
 * fails with `not-physical` where no such air exists
 * Source: A. Picard, R. S. Davis, M. Gläser, K. Fujii, Revised formula for the density of moist air (CIPM-2007),
 * Metrologia 45, 149 (2008), doi:10.1088/0026-1394/45/2/004
 */
export function airDensity(state: AirState, place: Place = {}): Outcome<number> {
  const { temperatureK: T, pressurePa: p, relativeHumidity, carbonDioxide = 4e-4 } = state;
  const t = T - zeroCelsiusK;
  const refusal = refuseState(t, p, relativeHumidity, carbonDioxide);
  if (refusal !== undefined) return fail(problem('not-physical', place, refusal));
  const xv = (relativeHumidity * enhancement(p, t) * saturationPressure(T)) / p;
  if (xv >= 1)
    return fail(
      problem(
        'not-physical',
        place,
        `At ${formatNumber(t, { decimals: 1 })} °C and ${formatNumber(p / 100, { significant: 4 })} hPa air cannot hold a relative humidity of ${formatNumber(relativeHumidity * 100, { significant: 3 })} %: the vapour pressure would exceed the pressure.`,
      ),
    );
  const Ma = (28.96546 + 12.011 * (carbonDioxide - 4e-4)) * 1e-3;
  const density = ((p * Ma) / (compressibility(p, T, t, xv) * R * T)) * (1 - xv * (1 - Mv / Ma));
  const inRange = t >= 15 && t <= 27 && p >= 60000 && p <= 110000;
  return succeed(
    density,
    inRange
      ? []
      : [
          warning(
            'outside-range',
            place,
            `The density of air is computed at ${formatNumber(t, { decimals: 1 })} °C and ${formatNumber(p / 100, { significant: 4 })} hPa; the formula is published for 15 to 27 °C and 600 to 1100 hPa.`,
          ),
        ],
  );
}

function refuseState(t: number, p: number, humidity: number, carbonDioxide: number): string | undefined {
  if (!(t >= -60 && t <= 100)) return `Air at ${t} °C is outside what this formula can say anything about.`;
  if (!(p > 0 && p <= 1e6)) return `An air pressure of ${p} Pa is not between 0 and 1 MPa.`;
  if (!(humidity >= 0 && humidity <= 1))
    return `A relative humidity lies between 0 and 100 %, not at ${humidity * 100} %.`;
  if (!(carbonDioxide >= 0 && carbonDioxide <= 0.1))
    return `A mole fraction of carbon dioxide lies between 0 and 0.1, not at ${carbonDioxide}.`;
  return undefined;
}

/** Vapour pressure at saturation, Pa; T in K. Equation A1.1 of the paper. */
function saturationPressure(T: number): number {
  return exp(1.2378847e-5 * T * T - 1.9121316e-2 * T + 33.93711047 - 6.3431645e3 / T);
}

/** Factor by which air raises the vapour pressure; p in Pa, t in °C. Equation A1.2. */
function enhancement(p: number, t: number): number {
  return 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
}

/** Compressibility Z. Equation A1.4; coefficients in the order of the paper: a0 a1 a2, b0 b1, c0 c1, d, e. */
function compressibility(p: number, T: number, t: number, xv: number): number {
  const first =
    1.58123e-6 -
    2.9331e-8 * t +
    1.1043e-10 * t * t +
    (5.707e-6 - 2.051e-8 * t) * xv +
    (1.9898e-4 - 2.376e-6 * t) * xv * xv;
  const second = 1.83e-11 - 0.765e-8 * xv * xv;
  return 1 - (p / T) * first + (p / T) ** 2 * second;
}
