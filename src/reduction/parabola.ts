import { localPolynomialWeights } from './local-polynomial.ts';

/** A parabola through readings, and its top or bottom. */
export interface Parabola {
  readonly top: number;
  /** Second derivative; below 0 where the parabola has a top. */
  readonly curvature: number;
  /** Three columns: derivative of the fitted values by the coefficients. */
  readonly design: readonly Float64Array[];
  /** Derivative of the top by the coefficients. */
  readonly gradient: readonly [number, number, number];
  readonly residuals: Float64Array;
}

/** Least-squares parabola through three or more readings; through exactly three it passes. */
export function fitParabola(x: Float64Array, y: Float64Array): Parabola {
  const middle = x[x.length >> 1];
  const width = Math.max(middle - x[0], x[x.length - 1] - middle);
  const places = x.map((each) => (each - middle) / width);
  const ones = places.map(() => 1);
  const base = y[y.length >> 1];
  const [value, slope, curvature] = [0, 1, 2].map((order) => {
    const weights = localPolynomialWeights(places, ones, 2, order);
    let sum = 0;
    for (let i = 0; i < weights.length; i++) sum += weights[i] * (y[i] - base);
    return sum;
  });
  const bend = curvature / 2;
  return {
    top: base + value - slope ** 2 / (4 * bend),
    curvature: curvature / width ** 2,
    design: [ones, places, places.map((place) => place * place)],
    gradient: [1, -slope / (2 * bend), slope ** 2 / (4 * bend ** 2)],
    residuals: y.map((each, i) => each - base - value - places[i] * (slope + places[i] * bend)),
  };
}

/** The row around which the mean of a few readings is largest; of three, that of the largest reading. */
export function rowOfTop(values: Float64Array, points: number): number {
  const half = points > 3 ? (points - 1) / 2 : 0;
  let best = half;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = half; i < values.length - half; i++) {
    let sum = 0;
    for (let j = i - half; j <= i + half; j++) sum += values[j];
    if (sum > most) {
      most = sum;
      best = i;
    }
  }
  return best;
}
