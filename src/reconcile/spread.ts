/**
 * Standard deviation of column `column` of a table of rows with `width` columns; rows that are NaN are left out.
 *
 * @returns 0 where nothing was drawn because nothing is uncertain; NaN where too few draws succeeded
 */
export function spreadOfColumn(table: Float64Array, width: number, column: number): number {
  let count = 0;
  let mean = 0;
  let squares = 0;
  for (let index = column; index < table.length; index += width) {
    const value = table[index];
    if (Number.isNaN(value)) continue;
    count += 1;
    const deviation = value - mean;
    mean += deviation / count;
    squares += deviation * (value - mean);
  }
  if (table.length === 0) return 0;
  return count < 2 ? Number.NaN : Math.sqrt(squares / (count - 1));
}

/** Root mean square of the differences of two tables' columns, and the spread of the first, over the rows of the shorter. */
export function compareColumns(
  one: Float64Array,
  other: Float64Array,
  width: number,
  column: number,
): { readonly difference: number; readonly spread: number } {
  const rows = Math.min(one.length, other.length);
  let squares = 0;
  let count = 0;
  for (let index = column; index < rows; index += width) {
    const difference = one[index] - other[index];
    if (Number.isNaN(difference)) continue;
    squares += difference * difference;
    count += 1;
  }
  return {
    difference: count === 0 ? 0 : Math.sqrt(squares / count),
    spread: spreadOfColumn(one.subarray(0, rows), width, column),
  };
}
