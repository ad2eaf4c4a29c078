import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compileColumns,
  compileFunction,
  differentiate,
  type Environment,
  FUNCTIONS,
  GraphWriter,
  interpret,
  makeTable,
  simplify,
  substitute,
  type Tree,
  type ValueOf,
} from '../../src/expression/index.ts';
import { dimensionless } from '../../src/quantity/index.ts';
import { evaluateGraph, Graph, type Node, writeFunction, writePower } from '../../src/wasm/index.ts';
import elementary from '../published/elementary-functions.json' with { type: 'json' };
import { NAMES, randomTrees, treeOf } from './random-trees.ts';

/** Values of trees at a point, by the compiler. */
function compiled(trees: readonly Tree[], point: Readonly<Record<string, number>>): Float64Array {
  const outputs = new Float64Array(trees.length);
  compileFunction(trees, Object.keys(point))(Float64Array.from(Object.values(point)), outputs);
  return outputs;
}

const point = fc.record(
  Object.fromEntries(
    NAMES.map((name) => [
      name,
      fc.oneof(fc.double({ min: -3, max: 3, noNaN: true }), fc.integer({ min: -2, max: 2 })),
    ]),
  ),
);

/** Everything written out as on lanes, nothing called. */
class WrittenOut extends GraphWriter {
  readonly angles: Node[] = [];

  protected writeName(key: string, environment: Environment): Node {
    const node = environment(key);
    if (node === undefined) throw new Error(`${key} is not given.`);
    return node;
  }

  protected writePower(base: Node, exponent: Node): Node {
    return writePower(this.graph, base, exponent);
  }

  protected writeCall(tree: Tree & { kind: 'call' }, of: ValueOf): Node {
    const parts = tree.arguments.map(of);
    if (/^(sin|cos|tan)$/.test(tree.name)) this.angles.push(...parts);
    const node = writeFunction(this.graph, tree.name, parts);
    if (node === null) throw new Error(`${tree.name} is not written.`);
    return node;
  }
}

/** The value of a tree by walking its operations; undefined where an angle is too large for that. */
function walkedOut(tree: Tree, at: Readonly<Record<string, number>>): number | undefined {
  const writer = new WrittenOut(new Graph());
  const names: readonly string[] = NAMES;
  const root = writer.write(tree, (key) => writer.graph.argument(names.indexOf(key)));
  const [value, ...angles] = evaluateGraph([root, ...writer.angles], (leaf) => at[names[leaf.value]]);
  return angles.some((angle) => Math.abs(angle) > 5e5) ? undefined : value;
}

/** How much the value changes when the point changes by a few roundings: below that nothing can agree. */
function shakinessOf(tree: Tree, at: Readonly<Record<string, number>>, expected: number): number {
  let largest = 0;
  for (const change of [1e-11, -1e-11, 3e-12]) {
    for (const name of NAMES) {
      const moved = at[name] * (1 + change) + change * 1e-3;
      const value = interpret(tree, (wanted) => (wanted === name ? moved : at[wanted]));
      largest = Math.max(largest, Math.abs(value - expected));
    }
  }
  return largest;
}

describe('compiled code', () => {
  const { value, condition } = randomTrees({ everything: false });

  it('gives the same bits as walking its operations one by one, elementary functions written out', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(value, condition), { minLength: 1, maxLength: 3 }),
        point,
        (trees, at) => {
          const found = compiled(trees, at);
          for (const [index, tree] of trees.entries()) {
            const walked = walkedOut(tree, at);
            if (walked !== undefined) expect(found[index]).toBe(walked);
          }
        },
      ),
      { numRuns: 2000, seed: 11 },
    );
  });

  it('gives the same bits so for derivatives, which hold choices and shared parts', () => {
    fc.assert(
      fc.property(value, point, (tree, at) => {
        const derivative = differentiate(tree, 'x');
        const walked = walkedOut(derivative, at);
        if (walked !== undefined) expect(compiled([derivative], at)[0]).toBe(walked);
      }),
      { numRuns: 1000, seed: 12 },
    );
  });

  it('means what the interpreter says, wherever that is settled to a few roundings', () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.oneof(value, condition), point, (tree, at) => {
        const expected = interpret(tree, (name) => at[name]);
        const [found] = compiled([tree], at);
        const shakiness = shakinessOf(tree, at, expected);
        if (!Number.isFinite(expected) || Math.abs(expected) > 1e250) return;
        const allowed = 1e-12 * Math.abs(expected) + 10 * shakiness;
        if (!(allowed <= 1e-6 * Math.abs(expected))) return;
        compared += 1;
        expect(Math.abs(found - expected)).toBeLessThanOrEqual(allowed);
      }),
      { numRuns: 2000, seed: 15 },
    );
    expect(compared).toBeGreaterThan(700);
  });

  it('gives the same bits row by row as one by one', () => {
    fc.assert(
      fc.property(
        fc.oneof(value, condition),
        fc.array(point, { minLength: 1, maxLength: 5 }),
        (tree, rows) => {
          const columns = ['x', 'v', 'm_c'].map((name) => Float64Array.from(rows, (row) => row[name]));
          const scalars = Float64Array.of(rows[0].lambda, rows[0]['θ₀']);
          const out = new Float64Array(rows.length);
          compileColumns(tree, ['x', 'v', 'm_c'], ['lambda', 'θ₀'])(columns, scalars, out);
          for (const [index, row] of rows.entries()) {
            const at = { ...row, lambda: rows[0].lambda, 'θ₀': rows[0]['θ₀'] };
            expect(out[index]).toBe(compiled([tree], at)[0]);
          }
        },
      ),
      { numRuns: 500, seed: 13 },
    );
  });

  it('keeps a value through simplifying', () => {
    fc.assert(
      fc.property(value, point, (tree, at) => {
        const whole = interpret(tree, (name) => at[name]);
        fc.pre(Number.isFinite(whole));
        const plain = interpret(simplify(tree), (name) => at[name]);
        // A part that is not finite may be left out: 0*ln(0) becomes 0.
        if (Number.isFinite(plain))
          expect(plain === whole || Math.abs(plain - whole) <= 1e-12 * Math.abs(whole)).toBe(true);
      }),
      { numRuns: 1000, seed: 14 },
    );
  });

  it('takes inputs by name in the order given, whatever the names', () => {
    const tree = treeOf('constructor - 10*valueOf + 100*θ₀');
    expect(compiled([tree], { constructor: 1, valueOf: 2, 'θ₀': 3 })[0]).toBe(281);
    const hostile = treeOf('__proto__ + toString');
    const outputs = new Float64Array(1);
    compileFunction([hostile], ['__proto__', 'toString'])(Float64Array.of(4, 5), outputs);
    expect(outputs[0]).toBe(9);
  });

  it('takes a primed name as an input of its own', () => {
    expect(compiled([treeOf("x'' + 2*x")], { x: 3, "x''": 5 })[0]).toBe(11);
  });

  it('is refused for names and tables that are not given', () => {
    expect(() => compileFunction([treeOf('x + y')], ['x'])).toThrow('The program has no input "y".');
    expect(() => compileFunction([treeOf('constructor')], ['x'])).toThrow('no input "constructor"');
    expect(() => compileFunction([treeOf('interpolate(A, x)')], ['x'])).toThrow('no table "A"');
  });

  it('holds conditions as 1 and 0', () => {
    const trees = ['x > 1 m', 'not x > 1 m', 'x > 1 m and x < 3 m', 'x <= 1 m or x >= 3 m'].map(treeOf);
    expect([...compiled(trees, { x: 2 })]).toEqual([1, 0, 1, 0]);
    expect([...compiled(trees, { x: 1 })]).toEqual([0, 1, 0, 1]);
  });

  it('follows definitions that double sixty times, since like parts are worked out once', () => {
    let tree = treeOf('x');
    const doubled = treeOf('y + y');
    for (let level = 0; level < 60; level += 1) tree = substitute(doubled, new Map([['y', tree]]));
    expect(compiled([tree], { x: 1 })[0]).toBe(2 ** 60);
    expect(compiled([differentiate(tree, 'x')], { x: 5 })[0]).toBe(2 ** 60);
    expect(interpret(simplify(tree), () => 1)).toBe(2 ** 60);
  });

  it('follows definitions nested twenty thousand deep without exhausting the stack', () => {
    let tree = treeOf('x');
    const step = treeOf('1/(1 + y)');
    for (let level = 0; level < 10_000; level += 1) {
      tree = {
        ...step,
        kind: 'arithmetic',
        operator: '/',
        left: treeOf('1'),
        right: { kind: 'arithmetic', operator: '+', left: treeOf('1'), right: tree, span: step.span },
      };
    }
    // Every level of a continued fraction of ones comes nearer to the golden section.
    const golden = (Math.sqrt(5) - 1) / 2;
    expect(interpret(tree, () => 1)).toBeCloseTo(golden, 14);
    expect(compiled([substitute(tree, new Map([['x', treeOf('z')]]))], { z: 1 })[0]).toBeCloseTo(golden, 14);
  });
});

describe('functions of the closed set', () => {
  const arguments_: Readonly<Record<string, readonly number[]>> = {
    acosh: [1.7],
    asin: [0.3],
    acos: [0.3],
    atanh: [0.3],
    floor: [-1.5],
  };
  it.each(elementary.table)('$expression = $value', ({ expression: text, value }) => {
    expect(compiled([treeOf(text)], {})[0]).toBeCloseTo(value, 14);
    expect(interpret(treeOf(text), () => Number.NaN)).toBeCloseTo(value, 14);
  });

  it.each(Object.keys(FUNCTIONS).filter((name) => FUNCTIONS[name].partials !== null))(
    '%s has the derivative that its differences show, for each argument',
    (name) => {
      const entry = FUNCTIONS[name];
      const count = entry.repeats === true ? 3 : entry.parameters.length;
      const at = arguments_[name] ?? [0.7, -0.4, 0.2].slice(0, count);
      const names = ['p', 'q', 'r'].slice(0, count);
      const tree = treeOf(`${name}(${names.join(', ')})`);
      for (const [index, argument] of names.entries()) {
        const valueAt = (shift: number) =>
          compiled(
            [tree],
            Object.fromEntries(names.map((each, k) => [each, at[k] + (k === index ? shift : 0)])),
          )[0];
        const h = 1e-3;
        // Central differences of order 6.
        const slope =
          (45 * (valueAt(h) - valueAt(-h)) -
            9 * (valueAt(2 * h) - valueAt(-2 * h)) +
            (valueAt(3 * h) - valueAt(-3 * h))) /
          (60 * h);
        const exact = compiled(
          [differentiate(tree, argument)],
          Object.fromEntries(names.map((each, k) => [each, at[k]])),
        )[0];
        expect(exact).toBeCloseTo(slope, 10);
      }
    },
  );
});

describe('interpolation in a table of points', () => {
  // Data set RPN 14 of Fritsch and Carlson 1980, SIAM J. Numer. Anal. 17, 238, table 1 (from memory).
  const x = [7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20];
  const y = [0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.94374, 0.998636, 0.999919, 0.999994];
  const made = makeTable({ x, y }, { x: dimensionless, y: dimensionless });
  if (!made.ok) throw new Error(made.problems[0].message);
  const tables = new Map([['A', made.value]]);
  const curve = compileColumns(treeOf('interpolate(A, x)'), ['x'], [], { tables });
  const slope = compileColumns(treeOf('d(interpolate(A, x), x)'), ['x'], [], { tables });
  const at = (compiledCurve: typeof curve, places: readonly number[]): number[] => {
    const out = new Float64Array(places.length);
    compiledCurve([Float64Array.from(places)], new Float64Array(0), out);
    return [...out];
  };

  it('goes through every point', () => {
    expect(at(curve, x)).toEqual(y);
  });

  it('rises where the points rise, without a swing', () => {
    const places = Array.from({ length: 4001 }, (_, index) => 7.99 + (12.01 * index) / 4000);
    const values = at(curve, places);
    for (let index = 1; index < values.length; index += 1) {
      expect(values[index]).toBeGreaterThanOrEqual(values[index - 1] - 1e-16);
    }
  });

  it('has a slope without jumps that its differences show', () => {
    const eps = 1e-7;
    for (const knot of x.slice(1, -1)) {
      const [before, here, after] = at(slope, [knot - eps, knot, knot + eps]);
      expect(Math.abs(after - before)).toBeLessThan(1e-4);
      expect(here).toBeGreaterThanOrEqual(0);
    }
    const [a, b] = at(curve, [9.5 - 1e-5, 9.5 + 1e-5]);
    expect((b - a) / 2e-5).toBeCloseTo(at(slope, [9.5])[0], 8);
  });

  it('is undefined outside the table, never guessed', () => {
    expect(at(curve, [7.98, 20.01, Number.NaN])).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });

  it('is straight through points on a straight line', () => {
    const line = makeTable({ x: [0, 1, 4, 9], y: [1, 3, 9, 19] }, { x: dimensionless, y: dimensionless });
    if (!line.ok) throw new Error(line.problems[0].message);
    const straight = compileColumns(treeOf('interpolate(A, x)'), ['x'], [], {
      tables: new Map([['A', line.value]]),
    });
    for (const place of [0, 0.3, 2.5, 7, 9]) expect(at(straight, [place])[0]).toBeCloseTo(1 + 2 * place, 13);
  });

  it('reads the same by walking the tree', () => {
    for (const text of [
      'interpolate(A, x)',
      'd(interpolate(A, x^2/8), x)',
      'd(d(interpolate(A, x), x), x)',
    ]) {
      const out = new Float64Array(1);
      compileFunction([treeOf(text)], ['x'], { tables })(Float64Array.of(9.1), out);
      expect(out[0]).toBe(interpret(treeOf(text), () => 9.1, tables));
      expect(out[0]).not.toBeNaN();
    }
  });

  it.each([
    [{ x: [0], y: [1] }, 'The table has 1 points; a curve needs at least 2.'],
    [{ x: [0, 1, 1], y: [1, 2, 3] }, "The table's x must rise from point to point; point 3 has 1 after 1."],
    [{ x: [0, 1], y: [1, Number.NaN] }, 'Point 2 of the table, (1, NaN), is not finite.'],
  ])('of a bad table %j is refused', (points, message) => {
    const table = makeTable(points, { x: dimensionless, y: dimensionless });
    expect(table.ok ? '' : table.problems[0].message).toBe(message);
  });
});
