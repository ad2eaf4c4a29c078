import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expLessOne, exponentOf, hypotenuse, lnOfOneMore, power } from '../../src/wasm/index.ts';
import nearOne from '../published/elementary-near-one.json' with { type: 'json' };

describe('functions for the program’s own reckoning', () => {
  it.each([
    ['expm1', expLessOne],
    ['log1p', lnOfOneMore],
  ] as const)('%s is within 2 units in the last place of 60 digits', (name, own) => {
    for (const [x, high, low] of nearOne.table[name]) {
      const unit = 2 ** (exponentOf(high) - 52);
      expect(Math.abs(own(x) - high - low) / unit, `${name}(${x})`).toBeLessThan(2);
    }
  });

  it('find the exponent of every number, also below the normal ones', () => {
    for (let e = -1074; e <= 1023; e++) expect(exponentOf(-(2 ** e))).toBe(e);
    expect(exponentOf(2 - 2 ** -52)).toBe(0);
    expect(exponentOf(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(exponentOf(Number.NaN)).toBeNaN();
  });

  it('find lengths without overflow', () => {
    expect(hypotenuse(3 * 2 ** 700, -4 * 2 ** 700)).toBe(5 * 2 ** 700);
    expect(hypotenuse(3 * 2 ** -1060, 4 * 2 ** -1060)).toBe(5 * 2 ** -1060);
    expect(hypotenuse(1, 2, 2)).toBe(3);
    expect(hypotenuse(0, 0)).toBe(0);
    expect(hypotenuse(Number.NEGATIVE_INFINITY, 1)).toBe(Number.POSITIVE_INFINITY);
  });

  it('take whole powers exactly where they are whole', () => {
    fc.assert(
      fc.property(fc.integer({ min: -9, max: 9 }), fc.integer({ min: 0, max: 15 }), (x, y) => {
        expect(power(x, y)).toBe(Number(BigInt(x) ** BigInt(y)));
      }),
      { seed: 5 },
    );
    expect(power(2, 0.5)).toBeCloseTo(Math.SQRT2, 15);
    expect(power(10, -3)).toBe(1e-3);
  });
});

describe('the folders whose numbers must be the same everywhere', () => {
  const folders =
    'wasm quantity expression inference model evolve engine instrument reduction lab run reconcile adapt';
  /** The interpreter of expressions is the measure of the compiled code, so it is made of other functions. */
  const apart = new Set(['src/expression/functions.ts', 'src/expression/interpret.ts']);

  it('call no function of Math whose last bit is left to the JavaScript engine', () => {
    const left =
      /\bMath\.(?:a?sinh?|a?cosh?|a?tanh?|atan2|exp|expm1|log|log10|log1p|log2|pow|cbrt|hypot)\b(?!`)/;
    for (const folder of folders.split(' ')) {
      for (const entry of readdirSync(join('src', folder), { recursive: true, encoding: 'utf8' })) {
        const file = join('src', folder, entry);
        if (!file.endsWith('.ts') || apart.has(file)) continue;
        expect(left.exec(readFileSync(file, 'utf8'))?.[0], file).toBeUndefined();
      }
    }
  });
});
