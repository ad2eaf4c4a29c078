import { curveThrough, type Table } from '../../expression/index.ts';
import type { PythonHelper } from './emit-python.ts';

/**
 * Functions that a program holds where its model needs them.
 *
 * Integrals: Gauss's rule with five points on each of 40 pieces (Abramowitz and Stegun 1964, table 25.4).
 */
const SOURCES: Readonly<Record<PythonHelper, string>> = {
  sign: `def sign(x):
    return (x > 0) - (x < 0)`,
  cube_root: `def cube_root(x):
    return math.copysign(abs(x) ** (1 / 3), x)`,
  integral: `def integral(f, a, b, pieces=40):
    places = (0.0, 0.5384693101056831, -0.5384693101056831, 0.906179845938664, -0.906179845938664)
    weights = (0.5688888888888889, 0.47862867049936647, 0.47862867049936647, 0.23692688505618908, 0.23692688505618908)
    half = (b - a) / pieces / 2
    total = 0.0
    for k in range(pieces):
        middle = a + (2 * k + 1) * half
        total += half * sum(w * f(middle + half * p) for p, w in zip(places, weights))
    return total`,
  curve: `def curve(pieces, x, order):
    """Cubic pieces: from x, value, slope, and the factors of the square and the cube."""
    last_x = pieces[-1][0]
    if not pieces[0][0] <= x <= last_x:
        return math.nan
    x0, c0, c1, c2, c3 = [piece for piece in pieces if piece[0] <= min(x, pieces[-2][0])][-1]
    u = x - x0
    if order == 0:
        return c0 + u * (c1 + u * (c2 + u * c3))
    if order == 1:
        return c1 + u * (2 * c2 + 3 * u * c3)
    return 2 * c2 + 6 * u * c3 if order == 2 else 6 * c3`,
};

export function pythonHelpers(needed: ReadonlySet<PythonHelper>): readonly string[] {
  return (['sign', 'cube_root', 'integral', 'curve'] as const)
    .filter((name) => needed.has(name))
    .map((name) => SOURCES[name]);
}

/** Tables as the pieces of their curves. */
export function pythonTables(tables: ReadonlyMap<string, Table>): string {
  const lines = [...tables].map(([name, table]) => {
    const curve = curveThrough(table);
    const pieces = [...table.x].map((x, k) => {
      const cubic = curve(x, 3) / 6;
      return `(${[x, table.y[k], curve(x, 1), curve(x, 2) / 2, cubic].map(String).join(', ')})`;
    });
    return `    ${JSON.stringify(name)}: [${pieces.join(', ')}],`;
  });
  return `TABLES = {\n${lines.join('\n')}\n}`;
}
