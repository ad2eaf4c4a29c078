/** Where fitLineInto puts what it finds. */
export const LINE = {
  intercept: 0,
  slope: 1,
  interceptUncertainty: 2,
  slopeUncertainty: 3,
  covariance: 4,
  residualSd: 5,
} as const;

/**
 * Unweighted straight line through the first n readings, without checks, objects or memory: for the thousands
 * of reductions behind one ledger. Agrees with fitLine to about 1e-13 of the spread of y.
 *
 * @param x, y n or more readings
 * @param out  6 numbers, in the order of LINE; uncertainties from the scatter
 * All of `out` is NaN where n < 2, x does not vary or a reading is not finite; the uncertainties are NaN
 * where n = 2.
 */
export function fitLineInto(x: Float64Array, y: Float64Array, n: number, out: Float64Array): void {
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < n; i += 1) {
    meanX += x[i];
    meanY += y[i];
  }
  meanX /= n;
  meanY /= n;
  let xx = 0;
  let xy = 0;
  let restX = 0;
  let restY = 0;
  for (let i = 0; i < n; i += 1) {
    const dx = x[i] - meanX;
    const dy = y[i] - meanY;
    restX += dx;
    restY += dy;
    xx += dx * dx;
    xy += dx * dy;
  }
  // The rounding of the means, found again in the sums of the differences (Chan, Golub, LeVeque 1983).
  xx -= (restX * restX) / n;
  xy -= (restX * restY) / n;
  meanX += restX / n;
  meanY += restY / n;
  if (!(n >= 2 && xx > 0) || !Number.isFinite(xy)) {
    out.fill(Number.NaN, 0, 6);
    return;
  }
  const slope = xy / xx;
  let rest = 0;
  for (let i = 0; i < n; i += 1) {
    const r = y[i] - meanY - slope * (x[i] - meanX);
    rest += r * r;
  }
  const variance = n > 2 ? rest / (n - 2) : Number.NaN;
  out[0] = meanY - slope * meanX;
  out[1] = slope;
  out[2] = Math.sqrt(variance * (1 / n + (meanX * meanX) / xx));
  out[3] = Math.sqrt(variance / xx);
  out[4] = (-variance * meanX) / xx;
  out[5] = Math.sqrt(variance);
}
