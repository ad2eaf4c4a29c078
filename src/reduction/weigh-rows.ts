import type { SharedErrors } from '../instrument/index.ts';

/**
 * Errors of rows that are weighted sums of neighbouring rows of another column.
 *
 * @param count most rows that one rests on
 * @param width most errors that one rests on; see `widthOfNeighbours`
 * @param weigh writes the weights for row i (the others are 0) and gives the first row that they belong to
 */
export function weighRows(
  own: SharedErrors,
  count: number,
  width: number,
  weigh: (i: number, weights: Float64Array) => number,
): SharedErrors {
  const weights = new Float64Array(count);
  const part = new Float64Array(own.width);
  return {
    family: own.family,
    width,
    row(i, out) {
      out.fill(0, 0, width);
      weights.fill(0);
      const first = weigh(i, weights);
      const start = own.row(first, part);
      for (let k = 0; k < count; k++) {
        if (weights[k] === 0) continue;
        const shift = own.row(first + k, part) - start;
        for (let m = 0; m < own.width; m++) out[shift + m] += weights[k] * part[m];
      }
      return start;
    },
  };
}

/**
 * Most errors that `count` neighbouring rows rest on together; more than count·width where rows were left out.
 *
 * @param rows how many rows the column has
 */
export function widthOfNeighbours(own: SharedErrors, rows: number, count: number): number {
  const part = new Float64Array(own.width);
  const starts = Float64Array.from({ length: rows }, (_, i) => own.row(i, part));
  let widest = 0;
  for (let i = 0; i < rows; i++) {
    widest = Math.max(widest, starts[Math.min(i + count, rows) - 1] - starts[i]);
  }
  return widest + own.width;
}
