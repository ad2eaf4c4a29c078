import type { Truth } from '../model/index.ts';

/** Whether a condition is true under the branches that stand in the inputs from `branches` on. */
export function isTrue(truth: Truth, inputs: Float64Array, branches: number): boolean {
  switch (truth.kind) {
    case 'side': {
      const side = truth.sign * inputs[branches + truth.switch];
      return side > 0 || (side === 0 && truth.atZero);
    }
    case 'and':
      return isTrue(truth.left, inputs, branches) && isTrue(truth.right, inputs, branches);
    case 'or':
      return isTrue(truth.left, inputs, branches) || isTrue(truth.right, inputs, branches);
    case 'not':
      return !isTrue(truth.operand, inputs, branches);
  }
}
