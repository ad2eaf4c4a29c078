import type { Loss } from './robust-loss.ts';

/**
 * Fills in the model's values at the given parameters (n values) and, where `jacobian` is not null, the
 * derivatives: jacobian[j][i] = ∂valueᵢ/∂parameterⱼ. Values that are not finite say that the parameters lie
 * outside the model's domain.
 */
export type Evaluate = (
  parameters: Float64Array,
  values: Float64Array,
  jacobian: readonly Float64Array[] | null,
) => void;

/** What a search makes smaller: the weighted residuals of a model, and their linearisation. */
export class Objective {
  readonly n: number;
  readonly k: number;
  readonly #evaluate: Evaluate;
  readonly #y: Float64Array;
  /** 1/u, or null where all readings count alike. */
  readonly #weights: Float64Array | null;
  readonly #loss: Loss;
  /** Scale of the weighted residuals for the loss. */
  scale = 1;
  evaluations = 0;

  constructor(evaluate: Evaluate, y: Float64Array, uy: Float64Array | null, k: number, loss: Loss) {
    this.#evaluate = evaluate;
    this.#y = y;
    this.#weights = uy ? uy.map((u) => 1 / u) : null;
    this.#loss = loss;
    this.n = y.length;
    this.k = k;
  }

  get isRobust(): boolean {
    return this.#loss.name !== 'squares';
  }

  /**
   * Weighted residuals (y − value)/u at the parameters, and their Jacobian where wanted: jacobian[j][i] of the
   * weighted values, so that residuals ≈ residuals₀ − Σ jacobian[j]·stepⱼ.
   *
   * @returns the cost: Σ residual², or the robust sum; Infinity where anything is not finite
   */
  at(parameters: Float64Array, residuals: Float64Array, jacobian: readonly Float64Array[] | null): number {
    this.evaluations += 1;
    this.#evaluate(parameters, residuals, jacobian);
    const y = this.#y;
    for (let i = 0; i < this.n; i += 1) residuals[i] = y[i] - residuals[i];
    this.weigh(residuals);
    if (jacobian) {
      for (const column of jacobian) {
        this.weigh(column);
        let sum = 0;
        for (let i = 0; i < this.n; i += 1) sum += column[i];
        if (!Number.isFinite(sum)) return Number.POSITIVE_INFINITY;
      }
    }
    return this.costOf(residuals);
  }

  /** Divides each entry by the standard uncertainty of its reading. */
  weigh(column: Float64Array): void {
    const weights = this.#weights;
    if (weights) for (let i = 0; i < this.n; i += 1) column[i] *= weights[i];
  }

  costOf(residuals: Float64Array): number {
    let sum = 0;
    if (this.#loss.name === 'squares') {
      for (let i = 0; i < this.n; i += 1) sum += residuals[i] * residuals[i];
    } else {
      const { scale } = this;
      for (let i = 0; i < this.n; i += 1) {
        const ratio = residuals[i] / scale;
        sum += this.#loss.cost(ratio * ratio);
      }
      sum *= scale * scale;
    }
    return Number.isNaN(sum) ? Number.POSITIVE_INFINITY : sum;
  }

  /** Whether the residuals are so small against the readings that the rounding of doubles shows in their digits. */
  isCloseToRounding(cost: number): boolean {
    const readings = this.#y.slice();
    this.weigh(readings);
    let size = 0;
    for (let i = 0; i < this.n; i += 1) size += readings[i] * readings[i];
    return cost <= 1e-12 * size;
  }

  /** Scales rows so that plain least squares on them takes a step of iteratively reweighted least squares. */
  reweight(residuals: Float64Array, jacobian: readonly Float64Array[]): void {
    if (this.#loss.name === 'squares') return;
    for (let i = 0; i < this.n; i += 1) {
      const ratio = residuals[i] / this.scale;
      const root = Math.sqrt(this.#loss.weight(ratio * ratio));
      residuals[i] *= root;
      for (const column of jacobian) column[i] *= root;
    }
  }

  /**
   * What stands in for the residual variance in the covariance of a robust fit of k parameters.
   *
   * Source: Huber, Robust Statistics, 1981, equation (7.6.4)
   */
  robustVariance(residuals: Float64Array, k: number): number {
    const { n, scale } = this;
    let squares = 0;
    const slopes = new Float64Array(n);
    let mean = 0;
    for (let i = 0; i < n; i += 1) {
      const z = (residuals[i] / scale) ** 2;
      const pull = residuals[i] * this.#loss.weight(z);
      squares += pull * pull;
      slopes[i] = this.#loss.slope(z);
      mean += slopes[i] / n;
    }
    let spread = 0;
    for (const slope of slopes) spread += (slope - mean) ** 2 / (n - 1);
    const correction = 1 + (k * spread) / (n * mean * mean);
    return (correction * correction * squares) / (n - k) / (mean * mean);
  }
}
