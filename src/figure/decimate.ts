/**
 * Indices of a line that are enough to draw it: of each column of the paper the first, the lowest, the highest and the
 * last, so that no extreme is lost and the line looks the same.
 *
 * @param x, y   places, points; NaN for missing values, which are kept as gaps
 * @param columnPt width of a column
 */
export function thinLine(x: ArrayLike<number>, y: ArrayLike<number>, columnPt: number): readonly number[] {
  const kept: number[] = [];
  let start = 0;
  while (start < x.length) {
    const column = Math.floor(x[start] / columnPt);
    let end = start;
    let lowest = start;
    let highest = start;
    while (end + 1 < x.length && Math.floor(x[end + 1] / columnPt) === column && !Number.isNaN(y[end + 1])) {
      end += 1;
      if (y[end] < y[lowest]) lowest = end;
      if (y[end] > y[highest]) highest = end;
    }
    kept.push(...new Set([start, Math.min(lowest, highest), Math.max(lowest, highest), end]));
    start = end + 1;
  }
  return kept;
}

/**
 * Indices of points that are enough to show where they lie: of each column the lowest and the highest.
 *
 * @returns in ascending order
 */
export function thinPoints(x: ArrayLike<number>, y: ArrayLike<number>, columnPt: number): readonly number[] {
  const columns = new Map<number, { lowest: number; highest: number }>();
  for (let i = 0; i < x.length; i++) {
    if (Number.isNaN(x[i]) || Number.isNaN(y[i])) continue;
    const column = Math.floor(x[i] / columnPt);
    const extremes = columns.get(column);
    if (extremes === undefined) columns.set(column, { lowest: i, highest: i });
    else if (y[i] < y[extremes.lowest]) extremes.lowest = i;
    else if (y[i] > y[extremes.highest]) extremes.highest = i;
  }
  const kept = new Set([...columns.values()].flatMap(({ lowest, highest }) => [lowest, highest]));
  return [...kept].sort((a, b) => a - b);
}
