import { fail, type Outcome, type Place, problem, succeed } from '../problem/index.ts';
import { checkReadings, spreadUncertainty } from './check-readings.ts';
import { type Fit, finishFit, type LineOptions } from './fit.ts';

const MOST_ROUNDS = 2000;

/**
 * Straight line when both variables carry uncertainty, which may be correlated within a reading.
 *
 * @returns [intercept in [y], slope in [y]/[x]]; residuals are y − intercept − slope·x; the covariance is
 * that of the adjusted points, scaled by reduced chi-square only with uncertaintyFrom: 'scatter'
 * Fails with 'too-few-readings', 'identical-x', 'not-finite', 'zero-weight', 'not-converged'.
 * Source: York, Evensen, López Martínez, De Basabe Delgado, Am. J. Phys. 72 (2004) 367–375,
 * doi:10.1119/1.1632486
 */
export function fitLineInBoth(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  options: LineOptions,
  place: Place,
): Outcome<Fit> {
  if (options.uy === undefined || options.ux === undefined)
    throw new RangeError('A fit with errors in both needs ux and uy.');
  const n = x.length;
  const asked = options.uncertaintyFrom ?? 'stated';
  const checked = checkReadings(
    'a line with errors in both',
    2,
    [
      { name: 'x', values: x },
      { name: 'y', values: y },
    ],
    { uncertaintyFrom: asked, uy: 1 },
    place,
  );
  const ux = spreadUncertainty('x', options.ux, n, place, true);
  const uy = spreadUncertainty('y', options.uy, n, place, true);
  if (!checked.ok || !ux.ok || !uy.ok) {
    return fail(...[checked, ux, uy].flatMap((outcome) => (outcome.ok ? [] : outcome.problems)));
  }
  const r = spreadCorrelation(options.correlation ?? 0, n);
  for (let i = 0; i < n; i += 1) {
    if (ux.value[i] === 0 && uy.value[i] === 0) {
      return fail(
        problem(
          'zero-weight',
          place,
          `Reading ${i + 1} has the standard uncertainty 0 in x and in y; one of them must be above 0.`,
        ),
      );
    }
  }
  const line = new YorkLine(Float64Array.from(x), Float64Array.from(y), ux.value, uy.value, r);
  const start = line.startSlope();
  if (start === null) {
    return fail(
      problem(
        'identical-x',
        place,
        `All ${n} readings of x are ${x[0]}; a line needs at least 2 different ones.`,
        'Take readings at more places.',
      ),
    );
  }
  const slope = settleSlope(line, start);
  if (slope === null) {
    return fail(
      problem(
        'not-converged',
        place,
        `The slope of the line with errors in both did not settle in ${MOST_ROUNDS} rounds.`,
        'Check the stated uncertainties: one far larger than the spread of the readings leaves the slope open.',
      ),
    );
  }
  return succeed(line.report(slope, asked));
}

/** The slope at which York's equation reproduces it, from the given start; null where it does not settle. */
function settleSlope(line: YorkLine, start: number): number | null {
  let slope = start;
  let before = Number.NaN;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const next = line.improve(slope);
    if (!Number.isFinite(next)) return null;
    const change = Math.abs(next - slope);
    // Rounding lets the slope flicker between neighbours: stop when changes no longer shrink at that level.
    if (change <= 4e-16 * Math.abs(next) || (change <= 1e-13 * Math.abs(next) && change >= before))
      return next;
    before = change;
    slope = next;
  }
  return null;
}

class YorkLine {
  readonly #x: Float64Array;
  readonly #y: Float64Array;
  readonly #ux: Float64Array;
  readonly #uy: Float64Array;
  readonly #r: Float64Array;
  /** York's W and β at the slope last tried, and the weighted means. */
  readonly #weight: Float64Array;
  readonly #shift: Float64Array;
  #meanX = 0;
  #meanY = 0;

  constructor(x: Float64Array, y: Float64Array, ux: Float64Array, uy: Float64Array, r: Float64Array) {
    this.#x = x;
    this.#y = y;
    this.#ux = ux;
    this.#uy = uy;
    this.#r = r;
    this.#weight = new Float64Array(x.length);
    this.#shift = new Float64Array(x.length);
  }

  /** Ordinary slope, each axis weighted by its own mean uncertainty; null where x does not vary. */
  startSlope(): number | null {
    const n = this.#x.length;
    let meanX = 0;
    let meanY = 0;
    for (let i = 0; i < n; i += 1) {
      meanX += this.#x[i] / n;
      meanY += this.#y[i] / n;
    }
    let xx = 0;
    let xy = 0;
    let first = true;
    for (let i = 0; i < n; i += 1) {
      const dx = this.#x[i] - meanX;
      xx += dx * dx;
      xy += dx * (this.#y[i] - meanY);
      first &&= this.#x[i] === this.#x[0];
    }
    return first ? null : xy / xx;
  }

  /** One round of York's equation (13): a better slope from a slope. */
  improve(b: number): number {
    const n = this.#x.length;
    let sum = 0;
    let sumX = 0;
    let sumY = 0;
    for (let i = 0; i < n; i += 1) {
      const sx = b * this.#ux[i];
      const w = 1 / (this.#uy[i] * this.#uy[i] + sx * sx - 2 * this.#r[i] * sx * this.#uy[i]);
      this.#weight[i] = w;
      sum += w;
      sumX += w * this.#x[i];
      sumY += w * this.#y[i];
    }
    this.#meanX = sumX / sum;
    this.#meanY = sumY / sum;
    let top = 0;
    let bottom = 0;
    for (let i = 0; i < n; i += 1) {
      const u = this.#x[i] - this.#meanX;
      const v = this.#y[i] - this.#meanY;
      const sx = this.#ux[i];
      const sy = this.#uy[i];
      const beta = this.#weight[i] * (u * sy * sy + b * v * sx * sx - (b * u + v) * this.#r[i] * sx * sy);
      this.#shift[i] = beta;
      top += this.#weight[i] * beta * v;
      bottom += this.#weight[i] * beta * u;
    }
    return top / bottom;
  }

  report(slope: number, uncertaintyFrom: 'scatter' | 'stated'): Fit {
    this.improve(slope);
    const n = this.#x.length;
    const intercept = this.#meanY - slope * this.#meanX;
    let sum = 0;
    let adjusted = 0;
    for (let i = 0; i < n; i += 1) {
      sum += this.#weight[i];
      adjusted += this.#weight[i] * this.#shift[i];
    }
    const meanShift = adjusted / sum;
    let spread = 0;
    let chiSquare = 0;
    const residuals = new Float64Array(n);
    for (let i = 0; i < n; i += 1) {
      const u = this.#shift[i] - meanShift;
      spread += this.#weight[i] * u * u;
      residuals[i] = this.#y[i] - this.#meanY - slope * (this.#x[i] - this.#meanX);
      chiSquare += this.#weight[i] * residuals[i] * residuals[i];
    }
    const centre = this.#meanX + meanShift;
    const slopeVariance = 1 / spread;
    const inverse = Float64Array.of(
      1 / sum + centre * centre * slopeVariance,
      -centre * slopeVariance,
      -centre * slopeVariance,
      slopeVariance,
    );
    return finishFit({
      parameters: Float64Array.of(intercept, slope),
      inverse,
      sumOfSquares: chiSquare,
      degreesOfFreedom: n - 2,
      residuals,
      stated: true,
      uncertaintyFrom,
      warnings: [],
    });
  }
}

function spreadCorrelation(given: ArrayLike<number> | number, n: number): Float64Array {
  const values = typeof given === 'number' ? new Float64Array(n).fill(given) : Float64Array.from(given);
  if (values.length !== n || values.some((value) => !(Math.abs(value) <= 1)))
    throw new RangeError('A correlation is wanted for each reading, between −1 and 1.');
  return values;
}
