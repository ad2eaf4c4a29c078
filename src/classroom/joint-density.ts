import { choleskyFactor } from '../inference/index.ts';

/**
 * Logarithm of the density of Student's t in m dimensions, at y.
 *
 * @param y, centre m values
 * @param covariance m × m, row-major: the covariance that was found from as many rehearsals as `freedom` + 1, plus
 *   what is known otherwise; taken as the scale matrix, as JCGM 101 (6.4.9) does in one dimension
 * @param freedom degrees of freedom, > 0
 * @returns −∞ where the covariance is not positive
 * Source: K. V. Mardia, J. T. Kent, J. M. Bibby, Multivariate Analysis (1979), 3.2
 */
export function logStudentDensity(
  y: Float64Array,
  centre: Float64Array,
  covariance: Float64Array,
  freedom: number,
): number {
  const m = y.length;
  const scale = Float64Array.from({ length: m }, (_, i) => Math.sqrt(covariance[i * m + i]));
  if (scale.some((size) => !(size > 0))) return Number.NEGATIVE_INFINITY;
  // In units of the standard deviations the matrix is of correlations, so that no size is lost in rounding.
  const correlations = covariance.map(
    (value, index) => value / (scale[Math.floor(index / m)] * scale[index % m]),
  );
  const lower = choleskyFactor(correlations, m);
  if (lower === null) return Number.NEGATIVE_INFINITY;
  let squares = 0;
  let logScale = 0;
  const z = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    let rest = (y[i] - centre[i]) / scale[i];
    for (let j = 0; j < i; j++) rest -= lower[i * m + j] * z[j];
    z[i] = rest / lower[i * m + i];
    squares += z[i] ** 2;
    logScale += Math.log(scale[i] * lower[i * m + i]);
  }
  return (
    logGammaRatio(freedom, m) -
    0.5 * m * Math.log(freedom * Math.PI) -
    logScale -
    0.5 * (freedom + m) * Math.log1p(squares / freedom)
  );
}

/** ln Γ((ν + m)/2) − ln Γ(ν/2), by Stirling's series; for ν ≥ 3 good to 1e-6. */
function logGammaRatio(freedom: number, m: number): number {
  return logGamma((freedom + m) / 2) - logGamma(freedom / 2);
}

/** ln Γ(x), x > 0. Stirling's series above 8, recurrence below (Abramowitz and Stegun 6.1.15, 6.1.41). */
function logGamma(x: number): number {
  if (x < 8) return logGamma(x + 1) - Math.log(x);
  const inverse = 1 / (x * x);
  const series = (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse / 1680))) / x;
  return (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + series;
}

/** Covariance matrix of rows of m values, m × m. */
export function covarianceOf(rows: readonly Float64Array[], centre: Float64Array): Float64Array {
  const m = centre.length;
  const matrix = new Float64Array(m * m);
  for (const row of rows) {
    for (let i = 0; i < m; i++)
      for (let j = 0; j < m; j++) matrix[i * m + j] += (row[i] - centre[i]) * (row[j] - centre[j]);
  }
  return matrix.map((sum) => sum / Math.max(rows.length - 1, 1));
}

/** Mean of rows of m values. */
export function meanOfRows(rows: readonly Float64Array[], m: number): Float64Array {
  const mean = new Float64Array(m);
  for (const row of rows) for (let i = 0; i < m; i++) mean[i] += row[i] / rows.length;
  return mean;
}
