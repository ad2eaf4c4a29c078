import { describe, expect, it } from 'vitest';
import { randomSource } from '../../src/inference/index.ts';
import { shapleyShares } from '../../src/reconcile/index.ts';
import { applyPlan, orderErrors, planAllOrders, planSampledOrders } from '../../src/reconcile/subset-plan.ts';

/** Results of every subset of 8 effects that act on one another in pairs and threes. */
function gameOf(seed: number): Float64Array {
  const random = randomSource(seed);
  const single = Float64Array.from({ length: 8 }, () => random.normal());
  const pair = Float64Array.from({ length: 64 }, () => 0.4 * random.normal());
  const triple = Float64Array.from({ length: 512 }, () => 0.3 * random.normal());
  return Float64Array.from({ length: 256 }, (_, subset) => {
    const on = single.map((_value, i) => (subset >> i) & 1);
    let sum = 10;
    for (let i = 0; i < 8; i++) {
      sum += on[i] * single[i];
      for (let j = 0; j < i; j++) {
        sum += on[i] * on[j] * pair[8 * i + j];
        for (let k = 0; k < j; k++) sum += on[i] * on[j] * on[k] * triple[64 * i + 8 * j + k];
      }
    }
    return sum;
  });
}

const exactShares = (game: Float64Array): Float64Array => {
  const shares = new Float64Array(8);
  shapleyShares(game, 8, shares);
  return shares;
};

/** Shares from orders drawn, and their stated errors. */
function sampled(game: Float64Array, pairs: number, seed: number) {
  const plan = planSampledOrders(8, pairs, randomSource(seed));
  const values = Float64Array.from(plan.subsets, (subset) => game[subset]);
  const shares = new Float64Array(8);
  applyPlan(plan, values, 1, shares);
  return { shares, errors: orderErrors(plan, values, 1), plan };
}

describe('a plan of all orders', () => {
  it('gives the shares of every order alike, as the definition has them', () => {
    const game = gameOf(1);
    const shares = new Float64Array(8);
    const plan = planAllOrders(8);
    applyPlan(plan, game, 1, shares);
    for (const [i, share] of exactShares(game).entries()) expect(shares[i]).toBeCloseTo(share, 12);
    expect([...orderErrors(plan, game, 1)]).toEqual(new Array(8).fill(0));
  });
});

describe('orders that are drawn', () => {
  const games = Array.from({ length: 60 }, (_, seed) => gameOf(seed + 100));

  it('leave shares that add up all the same', () => {
    for (const [seed, game] of games.entries()) {
      const { shares } = sampled(game, 8, seed);
      const sum = shares.reduce((total, share) => total + share, game[0]);
      expect(Math.abs(sum - game[255])).toBeLessThan(1e-12);
    }
  });

  it('state an error that holds: 95 % of the exact shares lie within two of them', () => {
    let within = 0;
    let all = 0;
    let squares = 0;
    for (const [seed, game] of games.entries()) {
      const exact = exactShares(game);
      const { shares, errors } = sampled(game, 32, 1000 + seed);
      for (const [i, share] of shares.entries()) {
        const z = (share - exact[i]) / errors[i];
        within += Math.abs(z) < 2 ? 1 : 0;
        squares += z * z;
        all += 1;
      }
    }
    // 480 shares: the shares of one game are not independent, so the limits are wide.
    expect(within / all).toBeGreaterThan(0.91);
    expect(within / all).toBeLessThan(0.985);
    expect(Math.sqrt(squares / all)).toBeGreaterThan(0.85);
    expect(Math.sqrt(squares / all)).toBeLessThan(1.2);
  });

  it('are exact where effects act in pairs at most: an order and its reverse even that out', () => {
    const pairsOnly = Float64Array.from({ length: 256 }, (_, subset) => {
      const on = (i: number) => (subset >> i) & 1;
      return 3 + on(0) + 2 * on(1) * on(2) - 5 * on(3) * on(7) + 0.5 * on(4) * on(5);
    });
    const { shares, errors } = sampled(pairsOnly, 2, 5);
    const exact = exactShares(pairsOnly);
    for (const [i, share] of exact.entries()) expect(shares[i]).toBeCloseTo(share, 12);
    expect(Math.max(...errors)).toBeLessThan(1e-12);
  });

  it('pass few subsets: no more than one an order and a place in it', () => {
    const plan = planSampledOrders(20, 16, randomSource(3));
    expect(plan.subsets.length).toBeLessThanOrEqual(32 * 19 + 2);
    expect([plan.subsets[0], plan.subsets[plan.subsets.length - 1]]).toEqual([0, 2 ** 20 - 1]);
  });
});
