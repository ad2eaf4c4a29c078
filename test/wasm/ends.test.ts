import { describe, expect, it } from 'vitest';
import { libraryFunction, libraryTypes } from '../../src/wasm/index.ts';

const ofHost: Readonly<Record<string, (...values: number[]) => number>> = {
  cbrt: Math.cbrt,
  exp: Math.exp,
  expm1: Math.expm1,
  ln: Math.log,
  log1p: Math.log1p,
  log10: Math.log10,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  asin: Math.asin,
  acos: Math.acos,
  atan: Math.atan,
  atan2: Math.atan2,
  sinh: Math.sinh,
  cosh: Math.cosh,
  tanh: Math.tanh,
  asinh: Math.asinh,
  acosh: Math.acosh,
  atanh: Math.atanh,
  pow: Math.pow,
};

const large = [1e3, 709.7, 710.2, 1e8, 1e22, 1e154, 1.7e308, Number.POSITIVE_INFINITY];
const small = [0, 5e-324, 1e-310, 2.3e-308, 1e-200, 1e-17, 1e-8];
const middle = [0.5, 1 - 2 ** -53, 1, 1 + 2 ** -52, 1.5, 2, 3, 7, 21.9, 22.1, 1e15 + 1];
const sizes = [...small, ...middle, ...large];
const ends = [...sizes, ...sizes.map((size) => -size), Number.NaN];

describe('at the ends of its domain', () => {
  it.each([...libraryTypes.keys()])('%s is what ECMA-262 says', (name) => {
    const own = libraryFunction(name);
    const count = libraryTypes.get(name)?.takes.length ?? 0;
    const points = count === 1 ? ends.map((x) => [x]) : ends.flatMap((x) => ends.map((y) => [x, y]));
    for (const point of points) {
      const expected = ofHost[name](...point);
      const found = own(...point);
      const where = `${name}(${point})`;
      if (!Number.isFinite(expected) || expected === 0) expect(found, where).toBe(expected);
      else {
        const allowed = Math.max(4e-16 * Math.abs(expected), 5e-324);
        expect(Math.abs(found - expected), where).toBeLessThanOrEqual(allowed);
      }
    }
  });
});
