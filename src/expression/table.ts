import type { Outcome, Place } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { Dimension } from '../quantity/index.ts';

/** Points that `interpolate` joins to a curve; SI values, x rising. */
export interface Table {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly xDimension: Dimension;
  readonly yDimension: Dimension;
}

/** The curve through a table: order 0 is its value, 1 to 3 its derivatives; NaN outside the points. */
export type Curve = (x: number, order: number) => number;

/**
 * Makes a table of points.
 *
 * Fails where there are fewer than two points, a value is not finite, or x does not rise from point to point.
 */
export function makeTable(
  points: { readonly x: readonly number[]; readonly y: readonly number[] },
  dimensions: { readonly x: Dimension; readonly y: Dimension },
  place: Place = {},
): Outcome<Table> {
  const { x, y } = points;
  if (x.length !== y.length || x.length < 2) {
    return fail(
      problem(
        'table-too-short',
        place,
        `The table has ${Math.min(x.length, y.length)} points; a curve needs at least 2.`,
      ),
    );
  }
  for (let i = 0; i < x.length; i += 1) {
    if (!Number.isFinite(x[i]) || !Number.isFinite(y[i])) {
      return fail(
        problem('table-not-finite', place, `Point ${i + 1} of the table, (${x[i]}, ${y[i]}), is not finite.`),
      );
    }
    if (i > 0 && x[i] <= x[i - 1]) {
      return fail(
        problem(
          'table-not-rising',
          place,
          `The table's x must rise from point to point; point ${i + 1} has ${x[i]} after ${x[i - 1]}.`,
        ),
      );
    }
  }
  return succeed({
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    xDimension: dimensions.x,
    yDimension: dimensions.y,
  });
}

/**
 * Monotone cubic through the points: no swing that the points do not show, continuous first derivative.
 *
 * Slopes are those of the parabola through three neighbours, zero at an extreme, drawn back into the circle of
 * radius 3 that keeps each piece monotone.
 * Source: F. N. Fritsch and R. E. Carlson 1980, SIAM J. Numer. Anal. 17, 238, doi:10.1137/0717021.
 *
 * @returns the curve; NaN outside the table, where x is NaN, and for an order beyond 3
 */
export function curveThrough(table: Table): Curve {
  const { x, y } = table;
  const slopes = monotoneSlopes(x, y);
  const last = x.length - 1;
  return (at, order) => {
    if (!(at >= x[0] && at <= x[last])) return Number.NaN;
    let low = 0;
    let high = last;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (x[middle] <= at) low = middle;
      else high = middle;
    }
    const h = x[high] - x[low];
    const secant = (y[high] - y[low]) / h;
    const quadratic = (3 * secant - 2 * slopes[low] - slopes[high]) / h;
    const cubic = (slopes[low] + slopes[high] - 2 * secant) / (h * h);
    const u = at - x[low];
    switch (order) {
      case 0:
        return at === x[high] ? y[high] : y[low] + u * (slopes[low] + u * (quadratic + u * cubic));
      case 1:
        return slopes[low] + u * (2 * quadratic + 3 * u * cubic);
      case 2:
        return 2 * quadratic + 6 * u * cubic;
      case 3:
        return 6 * cubic;
      default:
        return Number.NaN;
    }
  };
}

function monotoneSlopes(x: Float64Array, y: Float64Array): Float64Array {
  const count = x.length;
  const secants = new Float64Array(count - 1);
  for (let i = 0; i < count - 1; i += 1) secants[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  const slopes = new Float64Array(count);
  if (count === 2) return slopes.fill(secants[0]);
  for (let i = 1; i < count - 1; i += 1) {
    const before = x[i] - x[i - 1];
    const after = x[i + 1] - x[i];
    const rises = secants[i - 1] * secants[i] > 0;
    slopes[i] = rises ? (after * secants[i - 1] + before * secants[i]) / (before + after) : 0;
  }
  slopes[0] = endSlope(x[1] - x[0], x[2] - x[1], secants[0], secants[1]);
  slopes[count - 1] = endSlope(
    x[count - 1] - x[count - 2],
    x[count - 2] - x[count - 3],
    secants[count - 2],
    secants[count - 3],
  );
  for (let i = 0; i < count - 1; i += 1) {
    if (secants[i] === 0) {
      slopes[i] = 0;
      slopes[i + 1] = 0;
      continue;
    }
    const alpha = slopes[i] / secants[i];
    const beta = slopes[i + 1] / secants[i];
    const radius = Math.sqrt(alpha * alpha + beta * beta);
    if (radius > 3) {
      slopes[i] = (3 / radius) * alpha * secants[i];
      slopes[i + 1] = (3 / radius) * beta * secants[i];
    }
  }
  return slopes;
}

/** Slope at the end of the parabola through the last three points; zero where it would turn the curve round. */
function endSlope(near: number, far: number, nearSecant: number, farSecant: number): number {
  const slope = nearSecant + (near * (nearSecant - farSecant)) / (near + far);
  return slope * nearSecant > 0 ? slope : 0;
}
