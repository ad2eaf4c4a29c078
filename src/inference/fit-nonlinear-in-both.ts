import { fail, type Outcome, succeed } from '../problem/index.ts';
import { findNotFinite, spreadUncertainty } from './check-readings.ts';
import type { Fit } from './fit.ts';
import { fitNonlinear, type NonlinearProblem } from './fit-nonlinear.ts';

/**
 * Fills in values of the curve at given x (n each), its slopes ∂value/∂x and, where `jacobian` is not null, the
 * derivatives by the parameters: jacobian[j][i].
 */
export type EvaluateCurve = (
  parameters: Float64Array,
  x: Float64Array,
  values: Float64Array,
  slopes: Float64Array,
  jacobian: readonly Float64Array[] | null,
) => void;

export interface CurveInBothProblem extends Omit<NonlinearProblem, 'evaluate' | 'preciseResiduals' | 'uy'> {
  readonly x: ArrayLike<number>;
  /** Standard uncertainty of each x, ≥ 0, or one for all; 0 where x is exact. */
  readonly ux: ArrayLike<number> | number;
  /** Standard uncertainty of each y, > 0, or one for all. */
  readonly uy: ArrayLike<number> | number;
  readonly evaluate: EvaluateCurve;
}

export interface CurveInBothFit extends Fit {
  /** Where on the curve each reading most likely belongs, n values of x. */
  readonly adjustedX: Float64Array;
}

/**
 * Any curve through readings with errors in x and y: the parameters at which the sum of squared distances, each
 * axis in units of its uncertainty, from the readings to the curve is least.
 *
 * @returns residuals are y − curve(x), vertical; sumOfSquares is of the distances
 * Fails as fitNonlinear.
 * Method: for given parameters each reading finds its own nearest point of the curve; that leaves a problem in
 * the parameters alone, whose derivatives are exact. Source of the problem: Boggs, Byrd, Schnabel, SIAM J. Sci.
 * Stat. Comput. 8 (1987) 1052–1078
 */
export function fitNonlinearInBoth(given: CurveInBothProblem): Outcome<CurveInBothFit> {
  const place = given.place ?? { step: 'curve with errors in both' };
  const n = given.y.length;
  if (given.x.length !== n) throw new RangeError(`${given.x.length} readings of x, ${n} of y.`);
  const ux = spreadUncertainty('x', given.ux, n, place, true);
  const uy = spreadUncertainty('y', given.uy, n, place);
  const badX = findNotFinite('x', given.x, place);
  const badY = findNotFinite('y', given.y, place);
  if (!ux.ok || !uy.ok || badX || badY) {
    return fail(
      ...[badX, badY].filter((found) => found !== null),
      ...[ux, uy].flatMap((outcome) => (outcome.ok ? [] : outcome.problems)),
    );
  }
  const curve = new NearestPoints(
    Float64Array.from(given.x),
    Float64Array.from(given.y),
    ux.value,
    uy.value,
    given.evaluate,
  );
  const { x: _x, ux: _ux, uy: _uy, ...rest } = given;
  const found = fitNonlinear({
    ...rest,
    y: new Float64Array(n),
    uy: 1,
    uncertaintyFrom: given.uncertaintyFrom ?? 'stated',
    evaluate: (parameters, values, jacobian) => curve.distances(parameters, values, jacobian),
    place,
  });
  if (!found.ok) return found;
  const adjustedX = curve.nearest(found.value.parameters);
  return succeed(
    { ...found.value, residuals: curve.verticalResiduals(found.value.parameters), adjustedX },
    found.warnings,
  );
}

const MOST_ROUNDS = 100;

class NearestPoints {
  readonly #x: Float64Array;
  readonly #y: Float64Array;
  readonly #ux: Float64Array;
  readonly #uy: Float64Array;
  readonly #evaluate: EvaluateCurve;
  readonly #at: Float64Array;
  readonly #values: Float64Array;
  readonly #slopes: Float64Array;

  constructor(x: Float64Array, y: Float64Array, ux: Float64Array, uy: Float64Array, evaluate: EvaluateCurve) {
    this.#x = x;
    this.#y = y;
    this.#ux = ux;
    this.#uy = uy;
    this.#evaluate = evaluate;
    this.#at = x.slice();
    this.#values = new Float64Array(x.length);
    this.#slopes = new Float64Array(x.length);
  }

  /** Minus the signed distance of each reading from the curve, and its derivatives. */
  distances(parameters: Float64Array, out: Float64Array, jacobian: readonly Float64Array[] | null): void {
    this.nearest(parameters);
    this.#evaluate(parameters, this.#at, this.#values, this.#slopes, jacobian);
    for (let i = 0; i < out.length; i += 1) {
      const tilt = (this.#slopes[i] * this.#ux[i]) / this.#uy[i];
      const stretch = Math.sqrt(1 + tilt * tilt);
      out[i] = ((this.#values[i] - this.#y[i]) / this.#uy[i]) * stretch;
      // The nearest point is stationary, so only the curve's own change counts.
      if (jacobian) for (const column of jacobian) column[i] /= this.#uy[i] * stretch;
    }
  }

  verticalResiduals(parameters: Float64Array): Float64Array {
    this.#evaluate(parameters, this.#x, this.#values, this.#slopes, null);
    return this.#y.map((y, i) => y - this.#values[i]);
  }

  /**
   * The x of the nearest point of the curve to each reading: Gauss–Newton steps from the reading's own x, halved
   * where they lead away.
   */
  nearest(parameters: Float64Array): Float64Array {
    const n = this.#x.length;
    const at = this.#at;
    at.set(this.#x);
    this.#evaluate(parameters, at, this.#values, this.#slopes, null);
    const cost = Float64Array.from(at, (value, i) => this.#costAt(i, value));
    const from = new Float64Array(n);
    const step = new Float64Array(n);
    const settled = this.#ux.map((u) => (u === 0 ? 1 : 0));
    for (let i = 0; i < n; i += 1) step[i] = settled[i] ? 0 : this.#stepFrom(i);
    for (let round = 0; round < MOST_ROUNDS && settled.includes(0); round += 1) {
      for (let i = 0; i < n; i += 1) {
        from[i] = at[i];
        if (!settled[i]) at[i] += step[i];
      }
      this.#evaluate(parameters, at, this.#values, this.#slopes, null);
      for (let i = 0; i < n; i += 1) {
        if (settled[i]) continue;
        const now = this.#costAt(i, at[i]);
        const small = Math.abs(step[i]) <= 1e-9 * this.#ux[i];
        if (now <= cost[i] || small) {
          cost[i] = now;
          if (Math.abs(step[i]) <= 4e-16 * Math.abs(at[i]) + 1e-14 * this.#ux[i]) settled[i] = 1;
          step[i] = this.#stepFrom(i);
        } else {
          at[i] = from[i];
          step[i] /= 4;
        }
      }
    }
    return at.slice();
  }

  #costAt(i: number, x: number): number {
    const across = (this.#x[i] - x) / (this.#ux[i] === 0 ? 1 : this.#ux[i]);
    const along = (this.#y[i] - this.#values[i]) / this.#uy[i];
    return across * across + along * along;
  }

  #stepFrom(i: number): number {
    const tilt = (this.#slopes[i] * this.#ux[i]) / this.#uy[i];
    const along = (this.#y[i] - this.#values[i]) / this.#uy[i];
    const across = (this.#x[i] - this.#at[i]) / this.#ux[i];
    return (this.#ux[i] * (tilt * along + across)) / (1 + tilt * tilt);
  }
}
