import type { SharedErrors } from '../instrument/index.ts';

/**
 * The covariance V of the errors of n readings, as it acts on weighted readings: V = C·Cᵀ + diag(own).
 *
 * C has few entries a row (those of `SharedErrors`), so all that is needed of V costs about n·width.
 */
export class ErrorShape {
  readonly rows: number;
  readonly #width: number;
  readonly #first: Int32Array;
  /** C, `width` entries a row, each already times the root of the reading's weight. */
  readonly #coefficients: Float64Array;
  readonly #own: Float64Array | null;
  readonly #bases: number;

  /**
   * @param shared where the errors are from; null for readings with independent errors
   * @param scale  factor of each row: the root of its weight, times the size of its error where `shared` is null
   * @param own    variance of each row that is not shared, times its weight; null for none
   */
  constructor(shared: SharedErrors | null, scale: Float64Array, own: Float64Array | null) {
    this.rows = scale.length;
    this.#width = shared?.width ?? 1;
    this.#own = own;
    this.#first = new Int32Array(this.rows);
    this.#coefficients = new Float64Array(this.rows * this.#width);
    const row = new Float64Array(this.#width).fill(1);
    let bases = this.rows;
    for (let i = 0; i < this.rows; i++) {
      this.#first[i] = shared === null ? i : shared.row(i, row);
      bases = Math.max(bases, this.#first[i] + this.#width);
      for (let k = 0; k < this.#width; k++) this.#coefficients[i * this.#width + k] = scale[i] * row[k];
    }
    this.#bases = bases;
  }

  /** Cᵀ·q: what a combination q of the readings takes of each independent error. */
  gather(q: Float64Array): Float64Array {
    const gathered = new Float64Array(this.#bases);
    for (let i = 0; i < this.rows; i++) {
      const start = this.#first[i];
      for (let k = 0; k < this.#width; k++) {
        gathered[start + k] += q[i] * this.#coefficients[i * this.#width + k];
      }
    }
    return gathered;
  }

  /** pᵀ·V·q, with `gather(p)` and `gather(q)` worked out before. */
  covariance(p: Float64Array, gatheredP: Float64Array, q: Float64Array, gatheredQ: Float64Array): number {
    let sum = 0;
    for (let b = 0; b < this.#bases; b++) sum += gatheredP[b] * gatheredQ[b];
    if (this.#own !== null) for (let i = 0; i < this.rows; i++) sum += p[i] * q[i] * this.#own[i];
    return sum;
  }

  /** V·q. */
  multiply(q: Float64Array, gathered: Float64Array): Float64Array {
    const product = new Float64Array(this.rows);
    for (let i = 0; i < this.rows; i++) {
      let sum = this.#own === null ? 0 : this.#own[i] * q[i];
      for (let k = 0; k < this.#width; k++) {
        sum += this.#coefficients[i * this.#width + k] * gathered[this.#first[i] + k];
      }
      product[i] = sum;
    }
    return product;
  }

  /** V's diagonal. */
  variances(): Float64Array {
    const variances = new Float64Array(this.rows);
    for (let i = 0; i < this.rows; i++) {
      variances[i] = this.#entry(i, i) + (this.#own === null ? 0 : this.#own[i]);
    }
    return variances;
  }

  /**
   * Sum of the squares of all entries of D·V·D.
   *
   * @param scale the diagonal of D
   */
  sumOfSquares(scale: Float64Array): number {
    // Rows far apart share nothing; where a row shares with very many, every so many rows are enough.
    const every = Math.max(1, Math.round((this.rows * this.#width ** 2) / 3e7));
    let sum = 0;
    let counted = 0;
    for (let i = 0; i < this.rows; i += every) {
      const variance = this.#entry(i, i) + (this.#own === null ? 0 : this.#own[i]);
      sum += (scale[i] ** 2 * variance) ** 2;
      counted += 1;
      for (let j = i + 1; j < this.rows && Math.abs(this.#first[j] - this.#first[i]) < this.#width; j++) {
        sum += 2 * (scale[i] * scale[j] * this.#entry(i, j)) ** 2;
      }
    }
    return (sum * this.rows) / counted;
  }

  #entry(i: number, j: number): number {
    const coefficients = this.#coefficients;
    const width = this.#width;
    const shift = this.#first[j] - this.#first[i];
    const from = Math.max(0, shift);
    const to = width + Math.min(0, shift);
    const ofI = i * width;
    const ofJ = j * width - shift;
    let sum = 0;
    for (let k = from; k < to; k++) sum += coefficients[ofI + k] * coefficients[ofJ + k];
    return sum;
  }
}
