import { describe, expect, it } from 'vitest';
import { alpha, beta, gamma, inverseTransform, transform } from '../../src/evolve/radau-coefficients.ts';
import published from '../published/stiff-initial-value-problems.json' with { type: 'json' };
import { solve } from './published-problem.ts';

// Hairer, Wanner, Solving Ordinary Differential Equations II, IV.10, and the Test Set for IVP Solvers;
// the values are good to about 1e-9 relative, as the file says.

const methods = ['automatic', 'implicit'] as const;

describe.each(published.problems.map((entry) => [entry.id, entry] as const))(
  'the stiff problem %s',
  (_, entry) => {
    const cases = methods.flatMap((method) => entry.values.map((value) => [method, value.t, value] as const));

    it.each(cases)('by the %s method agrees at t = %d s with the reference to 5e-9', (method, t, value) => {
      const { end, motion } = solve(
        { equations: entry.equations, start: entry.y0, endS: t },
        { method, relativeTolerance: 1e-10, absoluteTolerance: 1e-20 },
      );
      value.y.forEach((y, i) => {
        expect(Math.abs(end[i] / y - 1)).toBeLessThan(5e-9);
      });
      if (t > 1) expect(motion.steps.method.some((name) => name.startsWith('implicit'))).toBe(true);
    });
  },
);

describe('the choice of method', () => {
  const decay = (rate: number) => ({ equations: [`-${rate}*(y1 - cos(t))`, '-y2'], start: [2, 1], endS: 20 });

  it('stays explicit where nothing is stiff', () => {
    expect(solve(decay(2), {}).motion.steps.method).toEqual(['explicit Runge–Kutta pair of order 8']);
  });

  it('turns implicit where stability holds the step down, and then needs few steps', () => {
    const automatic = solve(decay(1e6), { relativeTolerance: 1e-6 });
    const explicit = solve(decay(1e4), { relativeTolerance: 1e-6, method: 'explicit' });
    expect(automatic.motion.steps.method).toHaveLength(2);
    expect(automatic.motion.steps.accepted).toBeLessThan(1000);
    expect(explicit.motion.steps.accepted).toBeGreaterThan(10_000);
    // y' = −λ(y − cos t) tends to (λ² cos t + λ sin t)/(λ² + 1)
    const end = (1e12 * Math.cos(20) + 1e6 * Math.sin(20)) / (1e12 + 1);
    expect(automatic.end[0]).toBeCloseTo(end, 7);
  });

  it('turns back to explicit where the model has ceased to be stiff', () => {
    const { motion, end } = solve(
      { equations: ['-if(t < 5, 1e5, 0.5)*(y1 - cos(t))', 'y3', '-y2'], start: [2, 0, 1], endS: 200 },
      { relativeTolerance: 1e-8 },
    );
    expect(motion.steps.method).toHaveLength(2);
    expect(end[1]).toBeCloseTo(Math.sin(200), 5);
    const implicitAlone = solve(
      { equations: ['-0.5*(y1 - cos(t))', 'y3', '-y2'], start: [2, 0, 1], endS: 200 },
      { relativeTolerance: 1e-8, method: 'implicit' },
    );
    expect(motion.steps.accepted).toBeLessThan(implicitAlone.motion.steps.accepted / 3);
  });
});

describe('the coefficients of the implicit method', () => {
  it('split the inverse of its matrix into a real and a complex part (Hairer, Wanner II, IV.8)', () => {
    // A of Radau IIA with three stages, Hairer, Wanner II, table IV.5.6
    const r = Math.sqrt(6);
    const a = [
      [(88 - 7 * r) / 360, (296 - 169 * r) / 1800, (-2 + 3 * r) / 225],
      [(296 + 169 * r) / 1800, (88 + 7 * r) / 360, (-2 - 3 * r) / 225],
      [(16 - r) / 36, (16 + r) / 36, 1 / 9],
    ];
    const split = [
      [gamma, 0, 0],
      [0, alpha, -beta],
      [0, beta, alpha],
    ];
    const product = multiply(multiply(multiply(a, transform), split), inverseTransform);
    product.forEach((row, i) => {
      row.forEach((value, k) => {
        expect(value).toBeCloseTo(i === k ? 1 : 0, 13);
      });
    });
  });
});

type Matrix = readonly (readonly number[])[];

function multiply(left: Matrix, right: Matrix): number[][] {
  return left.map((row) =>
    right[0].map((_, k) => row.reduce((sum, value, m) => sum + value * right[m][k], 0)),
  );
}
