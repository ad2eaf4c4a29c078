import type { SharedErrors } from './shared-errors.ts';

/** Errors of stamps or readings of which each has its own, independent of the others. */
export function stampErrors(count: number, standardUncertainty: number): SharedErrors {
  return {
    family: { count, standardUncertainty },
    width: 1,
    row(i, out) {
      out[0] = 1;
      return i;
    },
  };
}
