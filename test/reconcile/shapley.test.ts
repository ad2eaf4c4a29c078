import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shapleyShares } from '../../src/reconcile/index.ts';

const shares = (values: readonly number[], effects: number): number[] => {
  const out = new Float64Array(effects);
  shapleyShares(Float64Array.from(values), effects, out);
  return [...out];
};

const games = fc.integer({ min: 1, max: 6 }).chain((effects) =>
  fc.record({
    effects: fc.constant(effects),
    values: fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), {
      minLength: 2 ** effects,
      maxLength: 2 ** effects,
    }),
  }),
);

describe('shares of effects', () => {
  it('follow the glove game: the owner of the left glove gets 2/3, each right glove 1/6 (Shapley 1953, textbook example)', () => {
    // Effect 0 is the left glove, 1 and 2 the right ones: a pair is worth 1.
    const values = Array.from({ length: 8 }, (_, subset) =>
      (subset & 1) !== 0 && (subset & 6) !== 0 ? 1 : 0,
    );
    const [left, right, other] = shares(values, 3);
    expect(left).toBeCloseTo(2 / 3, 15);
    expect(right).toBeCloseTo(1 / 6, 15);
    expect(other).toBeCloseTo(1 / 6, 15);
  });

  it('of two effects that multiply: each takes its own and half of what they do together', () => {
    // (1 + a)(1 + b) − 1 with a = 0.1, b = 0.2: together a·b = 0.02.
    const [a, b] = shares([1, 1.1, 1.2, 1.32], 2);
    expect(a).toBeCloseTo(0.1 + 0.01, 15);
    expect(b).toBeCloseTo(0.2 + 0.01, 15);
  });

  it('add up to the whole change (efficiency)', () => {
    fc.assert(
      fc.property(games, ({ effects, values }) => {
        const sum = shares(values, effects).reduce((total, share) => total + share, 0);
        expect(Math.abs(sum - (values[2 ** effects - 1] - values[0]))).toBeLessThan(1e-9);
      }),
      { seed: 1 },
    );
  });

  it('give nothing to an effect that changes nothing in any company (dummy)', () => {
    fc.assert(
      fc.property(games, ({ effects, values }) => {
        const doubled = Array.from(
          { length: 2 ** (effects + 1) },
          (_, subset) => values[subset % 2 ** effects],
        );
        const withDummy = shares(doubled, effects + 1);
        expect(Math.abs(withDummy[effects])).toBe(0);
        shares(values, effects).forEach((share, index) => {
          expect(withDummy[index]).toBeCloseTo(share, 8);
        });
      }),
      { seed: 2 },
    );
  });

  it('are the same for effects that are exchangeable (symmetry), and additive in the values', () => {
    fc.assert(
      fc.property(games, games, ({ effects, values }, other) => {
        const swapped = values.map((_, subset) => values[swapFirstTwo(subset, effects)]);
        const before = shares(values, effects);
        const after = shares(swapped, effects);
        if (effects > 1) {
          expect(after[0]).toBeCloseTo(before[1], 8);
          expect(after[1]).toBeCloseTo(before[0], 8);
        }
        if (other.effects === effects) {
          const sum = shares(
            values.map((value, index) => value + other.values[index]),
            effects,
          );
          const single = shares(other.values, effects);
          sum.forEach((share, index) => {
            expect(share).toBeCloseTo(before[index] + single[index], 8);
          });
        }
      }),
      { seed: 3 },
    );
  });

  it('equal the mean over all orders of switching on, counted one by one', () => {
    fc.assert(
      fc.property(games, ({ effects, values }) => {
        const sums = new Array<number>(effects).fill(0);
        const orders = ordersOf(effects);
        for (const order of orders) {
          let subset = 0;
          for (const effect of order) {
            sums[effect] += values[subset | (1 << effect)] - values[subset];
            subset |= 1 << effect;
          }
        }
        shares(values, effects).forEach((share, effect) => {
          expect(share).toBeCloseTo(sums[effect] / orders.length, 8);
        });
      }),
      { seed: 4, numRuns: 30 },
    );
  });
});

function swapFirstTwo(subset: number, effects: number): number {
  if (effects < 2) return subset;
  return (subset & ~3) | ((subset & 1) << 1) | ((subset & 2) >> 1);
}

function ordersOf(effects: number): number[][] {
  if (effects === 0) return [[]];
  return ordersOf(effects - 1).flatMap((order) =>
    Array.from({ length: effects }, (_, place) => [
      ...order.slice(0, place),
      effects - 1,
      ...order.slice(place),
    ]),
  );
}
