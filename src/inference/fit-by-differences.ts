import { fail, type Outcome, type Problem, problem, succeed } from '../problem/index.ts';
import { checkReadings, parameterNames, type Weighting } from './check-readings.ts';
import { judgeConditioning, tellIdle } from './conditioning.ts';
import { type Fit, type FitOptions, finishFit } from './fit.ts';
import {
  invertGram,
  makeTriangle,
  solveTriangle,
  type Triangle,
  triangularise,
  turn,
} from './householder.ts';
import { independentPart } from './independent-part.ts';

/** Least squares of a model that is followed for several sets of parameters at a time. */
export interface DifferenceProblem extends FitOptions {
  /** n readings, finite. */
  readonly y: ArrayLike<number>;
  /** k values, where the search starts. */
  readonly start: ArrayLike<number>;
  /**
   * Writes the model values of m sets of parameters, m × n numbers from m × k; not finite where a set lies outside the
   * domain. Sets are best when they are many: they may be followed side by side.
   */
  readonly evaluateMany: (sets: Float64Array, m: number, values: Float64Array) => void;
  /** A change of each parameter that matters, k values > 0; the size of the start, or 1 where that is 0, unless stated. */
  readonly scales?: ArrayLike<number>;
  readonly signal?: { readonly aborted: boolean };
}

/** Change of a parameter over which a difference is taken, as a share of its scale: far above the model's own error. */
const DIFFERENCE = 1e-4;
const MOST_ROUNDS = 100;
/** One-sided differences serve until the step left is this share of the uncertainty; two-sided ones finish. */
const NEAR = 1e-2;
/** A round that makes the sum of squares smaller by less than this share is followed by the final ones. */
const LEAST_GAIN = 1e-5;
const SETTLED = 1e-7;
const MOST_FINAL_ROUNDS = 8;
/** Keeps what the readings do not tell from wandering on the errors of differences. */
const LEAST_DAMPING = 1e-5;
const LARGEST_DAMPING = 1e12;
/** Below this share of its length a column is made of the others, as far as differences can tell. */
const SINGULAR = 1e-4;

/**
 * Nonlinear least squares where derivatives come from differences: for trajectories, whose values cost much and whose
 * errors are far above rounding.
 *
 * A round follows the present parameters and one change of each together, so that values and derivatives cost the same;
 * the last rounds take differences to both sides. The parameters are then those of least squares to about 1e-6 of
 * their uncertainty.
 *
 * Fails with 'too-few-readings', 'not-finite', 'zero-weight', 'outside-domain', 'not-converged', 'aborted'. Warns
 * 'ill-conditioned', 'no-influence'.
 * Method: Levenberg–Marquardt with Moré's scaling; Moré, Lect. Notes Math. 630 (1978) 105–116
 */
export function fitByDifferences(given: DifferenceProblem): Outcome<Fit> {
  const place = given.place ?? { step: 'fit by differences' };
  const k = given.start.length;
  const names = parameterNames(k, given.names);
  const what = `a fit of ${k} parameter${k === 1 ? '' : 's'}`;
  const weighting = checkReadings(what, k, [{ name: 'y', values: given.y }], given, place);
  if (!weighting.ok) return weighting;
  const search = new DifferenceSearch(given, weighting.value);
  const ending = search.run();
  switch (ending) {
    case 'settled':
      return report(search, weighting.value, names, given);
    case 'aborted':
      return fail(problem('aborted', place, 'The fit was stopped before it had settled.'));
    case 'outside-domain':
      return fail(
        problem(
          'outside-domain',
          place,
          'At the start the model has no finite value for every reading.',
          'Start from values at which the motion reaches all times of the readings.',
        ),
      );
    case 'not-converged':
      return fail(
        problem(
          'not-converged',
          place,
          `The fit did not settle; the best values met are ${names.map((name, j) => `${name} = ${Number(search.parameters[j].toPrecision(6))}`).join(', ')}.`,
          'Start from other values, or hold one of the parameters: two that do almost the same keep a fit from settling.',
        ),
      );
  }
}

type Ending = 'settled' | 'aborted' | 'outside-domain' | 'not-converged';

class DifferenceSearch {
  readonly parameters: Float64Array;
  /** Weighted residuals, and minus their derivatives. */
  readonly residuals: Float64Array;
  readonly triangle: Triangle;
  cost = Number.POSITIVE_INFINITY;
  readonly #given: DifferenceProblem;
  readonly #weights: Float64Array | null;
  readonly #n: number;
  readonly #k: number;
  readonly #scales: Float64Array;
  readonly #changes: Float64Array;
  readonly #sets: Float64Array;
  readonly #values: Float64Array;
  readonly jacobian: Float64Array[];
  readonly #scaling: Float64Array;
  readonly #right: Float64Array;
  readonly #step: Float64Array;

  constructor(given: DifferenceProblem, { uy }: Weighting) {
    const n = given.y.length;
    const k = given.start.length;
    this.#given = given;
    this.#n = n;
    this.#k = k;
    this.#weights = uy === null ? null : uy.map((u) => 1 / u);
    this.parameters = Float64Array.from(given.start);
    this.residuals = new Float64Array(n);
    this.#scales = Float64Array.from(given.start, (value, j) => given.scales?.[j] ?? (Math.abs(value) || 1));
    this.#changes = new Float64Array(k);
    this.#sets = new Float64Array((2 * k + 1) * k);
    this.#values = new Float64Array((2 * k + 1) * n);
    this.jacobian = Array.from({ length: k }, () => new Float64Array(n));
    // Room for the k rows that damping adds.
    this.triangle = makeTriangle(Array.from({ length: k }, () => new Float64Array(n + k)));
    this.#scaling = new Float64Array(k);
    this.#right = new Float64Array(n + k);
    this.#step = new Float64Array(k);
  }

  run(): Ending {
    this.cost = this.#look(this.parameters, 1);
    if (!Number.isFinite(this.cost)) return 'outside-domain';
    const trial = new Float64Array(this.#k);
    let damping = 1e-3;
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      if (this.#given.signal?.aborted === true) return 'aborted';
      const length = this.#solve(damping);
      if (length * length <= NEAR * NEAR * this.#perFreedom()) return this.#finish();
      for (let j = 0; j < this.#k; j += 1) trial[j] = this.parameters[j] + this.#step[j];
      const jacobian = this.jacobian.map((column) => column.slice());
      const residuals = this.residuals.slice();
      const cost = this.#look(trial, 1);
      if (cost < this.cost) {
        const gain = 1 - cost / this.cost;
        this.parameters.set(trial);
        this.cost = cost;
        if (gain < LEAST_GAIN) return this.#finish();
        damping = Math.max(LEAST_DAMPING, damping * 0.05);
      } else {
        for (let j = 0; j < this.#k; j += 1) this.jacobian[j].set(jacobian[j]);
        this.residuals.set(residuals);
        damping = Math.max(1e-6, damping) * 10;
        if (damping > LARGEST_DAMPING) return this.#finish();
      }
    }
    return 'not-converged';
  }

  /** Gauss–Newton steps with two-sided differences, until what is left to go is nothing. */
  #finish(): Ending {
    let before = Number.POSITIVE_INFINITY;
    for (let round = 0; round < MOST_FINAL_ROUNDS; round += 1) {
      if (this.#given.signal?.aborted === true) return 'aborted';
      this.cost = this.#look(this.parameters, 2);
      if (!Number.isFinite(this.cost)) return 'not-converged';
      const length = this.#solve(0);
      if (!Number.isFinite(length)) return 'not-converged';
      for (let j = 0; j < this.#k; j += 1) this.parameters[j] += this.#step[j];
      // The residuals at the end follow from the last linearisation: the step is far below what bends them.
      const isNothing = length * length <= NEAR * NEAR * SETTLED * this.#perFreedom();
      // Steps that shrink no more have come down to the errors of the model's values.
      const isFloor = length > 0.5 * before && this.#isTiny();
      if (isNothing || isFloor || this.cost === 0) {
        this.#takeStepInResiduals();
        return 'settled';
      }
      before = length;
    }
    return 'not-converged';
  }

  #isTiny(): boolean {
    return this.#step.every((change, j) => Math.abs(change) <= 1e-6 * (this.#changes[j] / DIFFERENCE));
  }

  #perFreedom(): number {
    return this.cost / Math.max(1, this.#n - this.#k);
  }

  #takeStepInResiduals(): void {
    this.cost = 0;
    for (let i = 0; i < this.#n; i += 1) {
      for (let j = 0; j < this.#k; j += 1) this.residuals[i] -= this.jacobian[j][i] * this.#step[j];
      this.cost += this.residuals[i] * this.residuals[i];
    }
  }

  /**
   * Weighted residuals and derivatives at a set of parameters.
   *
   * @param sides 1 or 2, of the differences
   * @returns the sum of squares; not finite outside the domain
   */
  #look(at: Float64Array, sides: 1 | 2): number {
    const n = this.#n;
    const k = this.#k;
    const sets = this.#sets;
    const values = this.#values;
    const m = 1 + sides * k;
    for (let set = 0; set < m; set += 1) sets.set(at, set * k);
    for (let j = 0; j < k; j += 1) {
      const size =
        this.#given.scales === undefined ? Math.abs(at[j]) + 0.01 * this.#scales[j] : this.#scales[j];
      this.#changes[j] = DIFFERENCE * size;
      sets[(1 + j) * k + j] += this.#changes[j];
      if (sides === 2) sets[(1 + k + j) * k + j] -= this.#changes[j];
    }
    this.#given.evaluateMany(sets.subarray(0, m * k), m, values.subarray(0, m * n));
    const { y } = this.#given;
    let cost = 0;
    let test = 0;
    for (let i = 0; i < n; i += 1) {
      const weight = this.#weights === null ? 1 : this.#weights[i];
      const residual = weight * (y[i] - values[i]);
      this.residuals[i] = residual;
      cost += residual * residual;
    }
    for (let j = 0; j < k; j += 1) {
      const column = this.jacobian[j];
      const above = (1 + j) * n;
      const below = sides === 2 ? (1 + k + j) * n : 0;
      const width = sides * this.#changes[j];
      for (let i = 0; i < n; i += 1) {
        const weight = this.#weights === null ? 1 : this.#weights[i];
        column[i] = (weight * (values[above + i] - values[below + i])) / width;
        test += column[i];
      }
    }
    return Number.isFinite(test) ? cost : Number.NaN;
  }

  /**
   * The damped step from the present residuals and derivatives, into `#step`.
   *
   * @returns how much the undamped part of it changes the fitted values
   */
  #solve(damping: number): number {
    const n = this.#n;
    const k = this.#k;
    const { columns } = this.triangle;
    const root = Math.sqrt(damping);
    this.#right.fill(0);
    this.#right.set(this.residuals);
    for (let j = 0; j < k; j += 1) {
      const column = columns[j];
      column.fill(0);
      column.set(this.jacobian[j]);
      let square = 0;
      for (let i = 0; i < n; i += 1) square += column[i] * column[i];
      this.#scaling[j] = Math.max(this.#scaling[j], Math.sqrt(square));
      column[n + j] = root * this.#scaling[j];
    }
    triangularise(columns, this.triangle);
    turn(this.triangle, this.#right);
    solveTriangle(this.triangle, this.#right, this.#step, SINGULAR);
    const { diagonal, norms } = this.triangle;
    let size = 0;
    for (let j = 0; j < k; j += 1) {
      if (Math.abs(diagonal[j]) > SINGULAR * norms[j]) size += this.#right[j] * this.#right[j];
    }
    return Math.sqrt(size);
  }
}

function report(
  search: DifferenceSearch,
  weighting: Weighting,
  names: readonly string[],
  given: DifferenceProblem,
): Outcome<Fit> {
  const place = given.place ?? { step: 'fit by differences' };
  const { parameters } = search;
  const k = parameters.length;
  const n = given.y.length;
  const { triangle, free, idle, imitating } = independentPart(search.jacobian, [], SINGULAR);
  const part = invertGram(triangle);
  const inverse = new Float64Array(k * k).fill(Number.NaN);
  const isKnown = (j: number): boolean => !idle.includes(j) && !imitating.includes(j);
  for (const [a, i] of free.entries()) {
    for (const [b, j] of free.entries()) {
      if (isKnown(i) && isKnown(j)) inverse[i * k + j] = part[a * free.length + b];
    }
  }
  for (const j of [...idle, ...imitating]) inverse[j * k + j] = Number.POSITIVE_INFINITY;
  const warnings: Problem[] = [];
  if (idle.length > 0) warnings.push(tellIdle(idle, imitating, names, place));
  if (free.length > 1) {
    const entanglement = Float64Array.from(
      free,
      (_, a) => Math.sqrt(part[a * free.length + a]) * triangle.norms[a],
    );
    const freeNames = free.map((j) => names[j]);
    const judged = judgeConditioning(entanglement, part, freeNames, Number.POSITIVE_INFINITY, place);
    if (judged !== null) warnings.push(judged);
  }
  const uy = weighting.uy;
  const fit = finishFit({
    parameters,
    inverse,
    sumOfSquares: search.cost,
    degreesOfFreedom: n - k + idle.length,
    residuals: uy === null ? search.residuals : search.residuals.map((residual, i) => residual * uy[i]),
    stated: uy !== null,
    uncertaintyFrom: weighting.uncertaintyFrom,
    warnings,
  });
  return succeed(fit, warnings);
}
