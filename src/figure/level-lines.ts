/** Pieces of a line along which a function has one value; a missing value (NaN) parts the pieces. */
export interface LevelLine {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * Where a function on a grid has a given value, by straight lines through each cell of four neighbours.
 *
 * @param x, y   places of the grid, rising or falling
 * @param values x × y, row-major; cells with a missing corner (NaN) are left out
 * @returns pieces of two places each, parted by NaN; a cell that the line passes twice is parted by its middle
 * Source: W. E. Lorensen and H. E. Cline, Computer Graphics 21 (1987) 163, in two dimensions
 */
export function levelLine(
  x: readonly number[],
  y: readonly number[],
  values: Float64Array,
  level: number,
): LevelLine {
  const xs: number[] = [];
  const ys: number[] = [];
  const at = (i: number, j: number) => values[i * y.length + j];
  for (let i = 0; i + 1 < x.length; i++) {
    for (let j = 0; j + 1 < y.length; j++) {
      // Round the cell: each corner with its place and what it is above the level.
      const corners = [
        { x: x[i], y: y[j], above: at(i, j) - level },
        { x: x[i + 1], y: y[j], above: at(i + 1, j) - level },
        { x: x[i + 1], y: y[j + 1], above: at(i + 1, j + 1) - level },
        { x: x[i], y: y[j + 1], above: at(i, j + 1) - level },
      ];
      if (corners.some(({ above }) => Number.isNaN(above))) continue;
      const crossings = corners.flatMap((from, corner) => {
        const to = corners[(corner + 1) % 4];
        if (from.above > 0 === to.above > 0) return [];
        const share = from.above / (from.above - to.above);
        return [{ x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) }];
      });
      const middle = corners.reduce((sum, { above }) => sum + above, 0) / 4;
      const turned =
        crossings.length === 4 && middle > 0 === corners[0].above > 0
          ? [crossings[0], crossings[1], crossings[2], crossings[3]]
          : crossings.length === 4
            ? [crossings[3], crossings[0], crossings[1], crossings[2]]
            : crossings;
      for (let piece = 0; piece + 1 < turned.length; piece += 2) {
        xs.push(turned[piece].x, turned[piece + 1].x, Number.NaN);
        ys.push(turned[piece].y, turned[piece + 1].y, Number.NaN);
      }
    }
  }
  return { x: Float64Array.from(xs), y: Float64Array.from(ys) };
}
