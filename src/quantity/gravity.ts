import { sine } from '../wasm/index.ts';
/** Defining and derived constants of a level ellipsoid of the Earth. */
export interface Ellipsoid {
  readonly name: string;
  /** Semi-major axis, m. */
  readonly a: number;
  /** Flattening. */
  readonly f: number;
  /** First eccentricity squared. */
  readonly e2: number;
  /** Normal gravity at the equator, m/s². */
  readonly gammaEquator: number;
  /** Somigliana's constant b·γ_pole/(a·γ_equator) − 1. */
  readonly k: number;
  /** ω²a²b/GM. */
  readonly m: number;
}

/** Source: NIMA TR8350.2, third edition (2000), Tables 3.1 to 3.5. */
export const wgs84: Ellipsoid = {
  name: 'WGS 84',
  a: 6378137,
  f: 1 / 298.257223563,
  e2: 6.69437999014e-3,
  gammaEquator: 9.7803253359,
  k: 1.93185265241e-3,
  m: 3.449786506841e-3,
};

/** Source: H. Moritz, Geodetic Reference System 1980, Bulletin géodésique 54, 395 (1980), doi:10.1007/BF02521480. */
export const grs80: Ellipsoid = {
  name: 'GRS 80',
  a: 6378137,
  f: 1 / 298.257222101,
  e2: 6.6943800229e-3,
  gammaEquator: 9.7803267715,
  k: 1.931851353e-3,
  m: 3.449786003077e-3,
};

/**
 * Normal gravity: the acceleration of free fall on a smooth rotating Earth. Real local gravity differs from it by up
 * to about 1e-3 m/s², usually by less than 5e-4 m/s²; that is its uncertainty, not the rounding of the formula.
 *
 * @param latitudeRad geodetic latitude, −π/2 to π/2
 * @param heightM height above the ellipsoid, m; the second-order series holds up to some tens of kilometres
 * @param ellipsoid WGS 84 unless given
 * @returns m/s²
 * @throws RangeError for a latitude that is not on the Earth
 * Source: Somigliana's closed formula and the height series, H. Moritz, as above, and NIMA TR8350.2, 4.1 and 4.3
 */
export function normalGravity(latitudeRad: number, heightM = 0, ellipsoid: Ellipsoid = wgs84): number {
  if (!(Math.abs(latitudeRad) <= Math.PI / 2 + 1e-12))
    throw new RangeError(`A latitude lies between −π/2 and π/2, not at ${latitudeRad}.`);
  const { a, f, e2, gammaEquator, k, m } = ellipsoid;
  const sine2 = sine(latitudeRad) ** 2;
  const onEllipsoid = (gammaEquator * (1 + k * sine2)) / Math.sqrt(1 - e2 * sine2);
  const height = heightM / a;
  return onEllipsoid * (1 - 2 * (1 + f + m - 2 * f * sine2) * height + 3 * height * height);
}
