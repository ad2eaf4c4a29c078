import { makeTriangle, solveTriangle, type Triangle, triangularise, turn } from './householder.ts';

/**
 * Solves ‖R·step − right‖² + damping·‖scaling·step‖² = least, for a triangle R of k columns.
 *
 * Source: Moré, Lect. Notes Math. 630 (1978) 105–116, section 3 (by triangularising R above the damping)
 */
export class DampedStep {
  readonly #triangle: Triangle;
  /** False for parameters whose steps are not damped. */
  readonly #damped: readonly boolean[];
  readonly #small: Triangle;
  readonly #right: Float64Array;

  constructor(triangle: Triangle, damped: readonly boolean[]) {
    const k = damped.length;
    this.#triangle = triangle;
    this.#damped = damped;
    this.#small = makeTriangle(Array.from({ length: k }, () => new Float64Array(2 * k)));
    this.#right = new Float64Array(2 * k);
  }

  /**
   * @param right the turned right side, of which the first k entries count
   * @param step  k values, filled in; 0 for a column that is zero
   * @returns how much ‖right − R·step‖² lies below ‖right‖²
   */
  solve(right: Float64Array, damping: number, scaling: Float64Array, step: Float64Array): number {
    const { columns, diagonal } = this.#triangle;
    const small = this.#small.columns;
    const k = small.length;
    const root = Math.sqrt(damping);
    for (let j = 0; j < k; j += 1) {
      small[j].fill(0);
      for (let i = 0; i < j; i += 1) small[j][i] = columns[j][i];
      small[j][j] = diagonal[j];
      small[j][k + j] = this.#damped[j] ? root * scaling[j] : 0;
      this.#right[j] = diagonal[j] === 0 ? 0 : right[j];
      this.#right[k + j] = 0;
    }
    triangularise(small, this.#small);
    turn(this.#small, this.#right);
    solveTriangle(this.#small, this.#right, step, 1e-15);
    let fall = 0;
    for (let i = 0; i < k; i += 1) {
      let image = diagonal[i] * step[i];
      for (let j = i + 1; j < k; j += 1) image += columns[j][i] * step[j];
      fall += image * (2 * right[i] - image);
    }
    return fall;
  }
}
