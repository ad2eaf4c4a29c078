import { describe, expect, it } from 'vitest';
import { libraryFunction } from '../../src/wasm/index.ts';
import farAngles from '../published/far-angles.json' with { type: 'json' };

function unitInLastPlace(value: number): number {
  return 2 ** Math.max(-1074, Math.floor(Math.log2(Math.abs(value))) - 52);
}

describe('angles of half a million radians and far beyond', () => {
  const bounds: Readonly<Record<string, number>> = { sin: 1.5, cos: 1.5, tan: 2 };
  it.each(['sin', 'cos', 'tan'].map((name, index) => [name, index] as const))(
    '%s is within 2 units in the last place of 400 digits',
    (name, index) => {
      for (const [angle, ...values] of farAngles.table) {
        const [high, low] = values.slice(2 * index);
        const error = Math.abs(libraryFunction(name)(angle) - high - low) / unitInLastPlace(high);
        expect(error, `${name}(${angle})`).toBeLessThan(bounds[name]);
      }
    },
  );

  it('have no sine where they are infinite or no number', () => {
    for (const angle of [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN]) {
      for (const name of ['sin', 'cos', 'tan']) expect(libraryFunction(name)(angle)).toBeNaN();
    }
  });
});
