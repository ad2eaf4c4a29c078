import { power } from '../wasm/index.ts';
import { DampedStep } from './damped-step.ts';
import { makeTriangle, solveTriangle, type Triangle, triangularise, turn } from './householder.ts';
import type { Objective } from './objective.ts';

/** Lowest and highest value of each parameter; infinite where free. */
export interface Limits {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

export interface SearchOptions {
  readonly limits: Limits;
  /** Parameters that enter the model linearly: they are solved for afresh at every step. */
  readonly linear: readonly number[];
  /** Damping of the first step, in units of the scaling. */
  readonly firstDamping: number;
  /**
   * Scaling of the parameters: by the largest length that each column has had, which keeps steps from running
   * off, or by the present one, which forgets a bad start.
   */
  readonly scaling: 'largest' | 'present';
  readonly mostEvaluations: number;
  readonly signal?: { readonly aborted: boolean };
}

export interface SearchResult {
  readonly parameters: Float64Array;
  readonly cost: number;
  /** 'settled': stationary as far as rounding shows; 'stuck': no step makes it smaller; 'exhausted'. */
  readonly ending: 'settled' | 'stuck' | 'exhausted' | 'aborted';
}

const SETTLED_COSINE = 1e-11;
const LEAST_GAIN = 1e-14;
const LARGEST_DAMPING = 1e20;
const LEAST_DAMPING = 1e-18;
/** The second-order correction is taken only where it is small against the first-order step. */
const MOST_CURVATURE = 0.75;
/** Below this the search is so near its end that the correction is left out from then on, until a step fails. */
const LEAST_CURVATURE = 0.01;
const PROBE = 0.1;

/**
 * Levenberg–Marquardt search with Moré's scaling, a second-order (geodesic) correction of each step, projection
 * on limits, and, where linear parameters are named, their elimination (variable projection in Kaufman's form).
 *
 * @param start inside the limits, with finite values of the model
 * Sources: Moré, Lect. Notes Math. 630 (1978) 105–116; Transtrum, Machta, Sethna, Phys. Rev. E 83 (2011) 036701;
 * Kaufman, BIT 15 (1975) 49–57; Nielsen, IMM-REP-1999-05 (update of the damping)
 */
export function dampedSearch(
  objective: Objective,
  start: Float64Array,
  options: SearchOptions,
): SearchResult {
  return new DampedSearch(objective, start, options).run();
}

class DampedSearch {
  readonly #objective: Objective;
  readonly #options: SearchOptions;
  readonly #parameters: Float64Array;
  #cost = Number.POSITIVE_INFINITY;
  readonly #residuals: Float64Array;
  #jacobian: Float64Array[];
  #trialJacobian: Float64Array[];
  readonly #triangle: Triangle;
  readonly #turned: Float64Array;
  /** Moré's scaling: the largest norm that each column has had. */
  readonly #scaling: Float64Array;
  readonly #step: Float64Array;
  readonly #bend: Float64Array;
  readonly #trial: Float64Array;
  readonly #trialResiduals: Float64Array;
  readonly #damped: DampedStep;
  #damping: number;
  #growth = 2;
  #lastWasGood = false;
  /** Whether the last second-order correction was too small to be worth its evaluation. */
  #straight = false;

  constructor(objective: Objective, start: Float64Array, options: SearchOptions) {
    const { n, k } = objective;
    this.#objective = objective;
    this.#options = options;
    this.#damping = options.firstDamping;
    this.#parameters = start.slice();
    this.#residuals = new Float64Array(n);
    this.#jacobian = Array.from({ length: k }, () => new Float64Array(n));
    this.#trialJacobian = Array.from({ length: k }, () => new Float64Array(n));
    this.#triangle = makeTriangle(Array.from({ length: k }, () => new Float64Array(n)));
    this.#turned = new Float64Array(Math.max(n, k));
    this.#scaling = new Float64Array(k);
    this.#step = new Float64Array(k);
    this.#bend = new Float64Array(k);
    this.#trial = new Float64Array(k);
    this.#trialResiduals = new Float64Array(n);
    this.#damped = new DampedStep(
      this.#triangle,
      Array.from({ length: k }, (_, j) => !options.linear.includes(j)),
    );
  }

  run(): SearchResult {
    const { mostEvaluations, signal } = this.#options;
    const most = this.#objective.evaluations + mostEvaluations;
    this.#solveLinear(this.#parameters);
    this.#cost = this.#objective.at(this.#parameters, this.#residuals, this.#jacobian);
    if (this.#cost === Number.POSITIVE_INFINITY) return this.#end('stuck');
    let idle = 0;
    for (;;) {
      if (signal?.aborted) return this.#end('aborted');
      if (this.#objective.evaluations >= most) return this.#end('exhausted');
      if (this.#linearise() <= SETTLED_COSINE) return this.#end('settled');
      const before = this.#cost;
      const found = this.#improve(most);
      if (found !== 'improved') return this.#end(found);
      // Rounding can let the cost creep for ever: a few idle rounds end the search.
      idle = before - this.#cost <= 1e-15 * before ? idle + 1 : 0;
      if (idle >= 5 || this.#cost === 0) return this.#end('settled');
    }
  }

  #end(ending: SearchResult['ending']): SearchResult {
    return { parameters: this.#parameters, cost: this.#cost, ending };
  }

  /**
   * Triangularises the Jacobian at the current parameters.
   *
   * @returns cosine of the angle between the residuals and what the parameters can change
   */
  #linearise(): number {
    const { n, k } = this.#objective;
    const { columns } = this.#triangle;
    this.#turned.fill(0);
    this.#turned.set(this.#residuals);
    for (let j = 0; j < k; j += 1) columns[j].set(this.#jacobian[j]);
    this.#objective.reweight(this.#turned, columns);
    this.#holdAtLimits(columns);
    let total = 0;
    for (let i = 0; i < n; i += 1) total += this.#turned[i] * this.#turned[i];
    for (let j = 0; j < k; j += 1) {
      let square = 0;
      for (let i = 0; i < n; i += 1) square += columns[j][i] * columns[j][i];
      const length = Math.sqrt(square);
      if (length > this.#scaling[j] || (this.#options.scaling === 'present' && length > 0))
        this.#scaling[j] = length;
    }
    triangularise(columns, this.#triangle);
    turn(this.#triangle, this.#turned);
    let reachable = 0;
    for (let j = 0; j < k; j += 1)
      if (this.#triangle.diagonal[j] !== 0) reachable += this.#turned[j] * this.#turned[j];
    return Math.sqrt(reachable / total);
  }

  /** A parameter at a limit whose descent leads outward is held: its column is cleared for this step. */
  #holdAtLimits(columns: readonly Float64Array[]): void {
    const { low, high } = this.#options.limits;
    for (let j = 0; j < columns.length; j += 1) {
      const value = this.#parameters[j];
      if (value > low[j] && value < high[j]) continue;
      let downhill = 0;
      for (let i = 0; i < this.#objective.n; i += 1) downhill += columns[j][i] * this.#turned[i];
      if (value <= low[j] ? downhill <= 0 : downhill >= 0) columns[j].fill(0);
    }
  }

  /** Raises the damping until a step makes the cost smaller, takes it, and lowers the damping. */
  #improve(most: number): 'improved' | 'stuck' | 'exhausted' | 'settled' {
    for (;;) {
      if (this.#objective.evaluations >= most) return 'exhausted';
      const predicted = this.#damped.solve(this.#turned, this.#damping, this.#scaling, this.#step);
      // What is left to gain cannot be told from rounding by comparing costs: the caller settles the rest.
      if (predicted <= LEAST_GAIN * this.#cost) return 'settled';
      const bent = this.#bendStep();
      this.#setTrial(bent);
      this.#solveLinear(this.#trial);
      // After a good step the next is likely good too: its derivatives are then had in the same evaluation.
      const ahead = this.#lastWasGood;
      const cost = this.#objective.at(this.#trial, this.#trialResiduals, ahead ? this.#trialJacobian : null);
      const ratio = (this.#cost - cost) / predicted;
      this.#lastWasGood = cost < this.#cost && ratio > 0.5;
      if (cost < this.#cost && ratio > 1e-4) {
        const whole = ahead
          ? cost
          : this.#objective.at(this.#trial, this.#trialResiduals, this.#trialJacobian);
        // Where the values are finite but the derivatives are not, the step is shortened.
        if (whole < Number.POSITIVE_INFINITY) {
          this.#take(whole, ratio);
          return 'improved';
        }
      }
      if (this.#stepIsRounding()) return 'stuck';
      this.#straight = false;
      this.#damping *= this.#growth;
      this.#growth *= 2;
      if (this.#damping > LARGEST_DAMPING) return 'stuck';
    }
  }

  #take(cost: number, ratio: number): void {
    this.#parameters.set(this.#trial);
    this.#residuals.set(this.#trialResiduals);
    [this.#jacobian, this.#trialJacobian] = [this.#trialJacobian, this.#jacobian];
    this.#cost = cost;
    this.#damping *=
      ratio > 0.95 && ratio < 1.05 ? 0.05 : Math.max(1 / 3, 1 - power(2 * Math.min(ratio, 1) - 1, 3));
    this.#damping = Math.max(this.#damping, LEAST_DAMPING);
    this.#growth = 2;
  }

  /** Second-order correction of the step, from one evaluation a tenth of the way along it; true where it is used. */
  #bendStep(): boolean {
    const { n, k } = this.#objective;
    if (this.#straight || this.#options.linear.length > 0) return false;
    for (let j = 0; j < k; j += 1) this.#trial[j] = this.#parameters[j] + PROBE * this.#step[j];
    if (this.#objective.at(this.#trial, this.#trialResiduals, null) === Number.POSITIVE_INFINITY)
      return false;
    for (let i = 0; i < n; i += 1) {
      let slope = 0;
      for (let j = 0; j < k; j += 1) slope += this.#jacobian[j][i] * this.#step[j];
      const change = (this.#residuals[i] - this.#trialResiduals[i]) / PROBE;
      this.#trialResiduals[i] = (-2 / PROBE) * (change - slope);
    }
    turn(this.#triangle, this.#trialResiduals);
    this.#damped.solve(this.#trialResiduals, this.#damping, this.#scaling, this.#bend);
    let first = 0;
    let second = 0;
    for (let j = 0; j < k; j += 1) {
      first += (this.#scaling[j] * this.#step[j]) ** 2;
      second += (this.#scaling[j] * this.#bend[j]) ** 2;
    }
    this.#straight = 2 * Math.sqrt(second) <= LEAST_CURVATURE * Math.sqrt(first);
    return 2 * Math.sqrt(second) <= MOST_CURVATURE * Math.sqrt(first);
  }

  #setTrial(bent: boolean): void {
    const { low, high } = this.#options.limits;
    for (let j = 0; j < this.#trial.length; j += 1) {
      const value = this.#parameters[j] + this.#step[j] + (bent ? this.#bend[j] / 2 : 0);
      this.#trial[j] = Math.min(high[j], Math.max(low[j], value));
    }
  }

  #stepIsRounding(): boolean {
    for (let j = 0; j < this.#step.length; j += 1)
      if (Math.abs(this.#step[j]) > 1e-15 * Math.abs(this.#parameters[j])) return false;
    return true;
  }

  /** Replaces the linear parameters by their least-squares values for the others. */
  #solveLinear(parameters: Float64Array): void {
    const { linear } = this.#options;
    if (linear.length === 0) return;
    for (const j of linear) parameters[j] = 0;
    const residuals = this.#trialResiduals;
    if (this.#objective.at(parameters, residuals, this.#triangleScratch()) === Number.POSITIVE_INFINITY)
      return;
    const columns = linear.map((j) => this.#scratch[j]);
    this.#objective.reweight(residuals, columns);
    const triangle = triangularise(columns, makeTriangle(columns));
    turn(triangle, residuals);
    const solution = new Float64Array(linear.length);
    solveTriangle(triangle, residuals, solution, 1e-14);
    linear.forEach((j, index) => {
      parameters[j] = solution[index];
    });
  }

  #scratch: readonly Float64Array[] = [];

  #triangleScratch(): readonly Float64Array[] {
    if (this.#scratch.length === 0)
      this.#scratch = Array.from({ length: this.#objective.k }, () => new Float64Array(this.#objective.n));
    return this.#scratch;
  }
}
