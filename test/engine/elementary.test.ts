import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createBatchEngine, type Lanes } from '../../src/engine/index.ts';
import { modelOf, unwrap } from '../evolve/model-from-texts.ts';

interface References {
  readonly table: Readonly<Record<string, readonly (readonly number[])[]>>;
}

const references: References = JSON.parse(
  readFileSync(new URL('../published/elementary-functions-50-digits.json', import.meta.url), 'utf8'),
);

/** Largest error allowed, in units in the last place: measured on 30 000 arguments, rounded up. */
const bounds: Readonly<Record<string, number>> = {
  exp: 0.8,
  ln: 0.65,
  log10: 0.55,
  sin: 2.2,
  cos: 2.2,
  tan: 2.2,
  asin: 2,
  acos: 2,
  atan: 1,
  atan2: 1.2,
  sinh: 2.1,
  cosh: 2.1,
  tanh: 1.7,
  asinh: 1.5,
  acosh: 1.7,
  atanh: 1.8,
  cbrt: 0.8,
  hypot: 1.6,
  pow: 0.8,
};

/** The value of an expression of states x and y at each pair, by the engine: a sample at the start of a motion. */
function valuesOf(expression: string, pairs: readonly (readonly number[])[], lanes: Lanes): Float64Array {
  const model = modelOf({
    parameters: { a: [0, ''], b: [0, ''], k: [0, '1/s'] },
    states: { x: ['a', 'k*x'], y: ['b', 'k*y'] },
    signals: { value: expression },
    lasts: '1 s',
  });
  const engine = unwrap(
    createBatchEngine(model, [{ kind: 'samples', signal: 0, start: 0, interval: 2, most: 1 }], { lanes }),
  );
  const rows = Float64Array.from(pairs.flatMap(([x, y]) => [x, expression.includes('y') ? y : 1, 0]));
  const result = engine.makeResult(pairs.length);
  engine.run(rows, pairs.length, result);
  return result.series[0].values;
}

function unitInLastPlace(value: number): number {
  return 2 ** Math.max(-1074, Math.floor(Math.log2(Math.abs(value))) - 52);
}

describe('the elementary functions of the engine', () => {
  for (const [name, rows] of Object.entries(references.table)) {
    const count = (rows[0]?.length ?? 3) - 2;
    const expression = name === 'pow' ? 'x^y' : count === 2 ? `${name}(x, y)` : `${name}(x)`;
    it(`${name} is within ${bounds[name]} units in the last place of 50 digits, alike on 1, 2 and 4 lanes`, () => {
      const found = valuesOf(expression, rows, 4);
      for (const [index, row] of rows.entries()) {
        const [high, low] = row.slice(count);
        const error = Math.abs(found[index] - high - low) / unitInLastPlace(high);
        expect(error, `${name}(${row.slice(0, count)})`).toBeLessThan(bounds[name]);
      }
      expect(valuesOf(expression, rows, 2)).toEqual(found);
      expect(valuesOf(expression, rows, 1)).toEqual(found);
    });
  }

  it('give at the ends of their domains what ECMA-262 gives', () => {
    const infinity = Number.POSITIVE_INFINITY;
    const cases: readonly (readonly [
      string,
      readonly (readonly number[])[],
      (x: number, y: number) => number,
    ])[] = [
      ['exp(x)', [[0], [-800], [800]], Math.exp],
      ['ln(x)', [[0], [-1], [1], [5e-324]], Math.log],
      ['tanh(x)', [[0], [30], [-30]], Math.tanh],
      ['sqrt(x)', [[-1], [0], [4]], Math.sqrt],
      ['atan(x)', [[1e300], [-1e300], [0]], Math.atan],
      [
        'x^y',
        [
          [0, 2.5],
          [0, -2.5],
          [-2, 3.5],
          [2, 0],
          [-8, 1 / 3],
          [1.5, 1e5],
          [1.5, -1e5],
        ],
        Math.pow,
      ],
      [
        'x^y',
        [
          [-2, 3],
          [-2, -3],
          [-2, 2e9],
          [-1, 1e15 + 1],
          [0.5, 2000],
        ],
        Math.pow,
      ],
      [
        'hypot(x, y)',
        [
          [0, 0],
          [3e200, 4e200],
          [3e-200, 4e-200],
        ],
        Math.hypot,
      ],
      [
        'atan2(x, y)',
        [
          [0, 1],
          [0, -1],
          [1, 0],
          [-1, 0],
          [0, 0],
          [1, -1],
        ],
        Math.atan2,
      ],
    ];
    for (const [expression, pairs, expected] of cases) {
      const found = valuesOf(expression, pairs, 4);
      for (const [index, [x, y = 1]] of pairs.entries()) {
        const wanted = expected(x, y);
        const where = `${expression} at ${x}, ${y}`;
        if (Number.isNaN(wanted) || Math.abs(wanted) === infinity) expect(found[index], where).toBe(wanted);
        else expect(Math.abs(found[index] - wanted), where).toBeLessThanOrEqual(4e-16 * Math.abs(wanted));
      }
    }
  });

  it('do not pretend to know the sine of an angle beyond half a million radians', () => {
    expect(valuesOf('sin(x)', [[6e5], [4e5]], 2)[0]).toBeNaN();
  });
});
