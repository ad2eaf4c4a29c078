import { describe, expect, it } from 'vitest';
import {
  chiSquareProbability,
  chiSquareQuantile,
  chiSquareTail,
  chiSquareUpperQuantile,
  fProbability,
  fQuantile,
  fTail,
  fUpperQuantile,
  normalQuantile,
  normalTail,
  studentDensity,
  studentProbability,
  studentQuantile,
  studentTail,
} from '../../src/inference/index.ts';
// Computed from the definitions with 50 digits.
import published from '../published/distributions.json' with { type: 'json' };

const TOLERANCE = 1e-12;

function relative(found: number, expected: string | number): number {
  const value = Number(expected);
  return value === 0 ? Math.abs(found) : Math.abs(found - value) / Math.abs(value);
}

/**
 * A quantile at a probability near 1 is only as sure as the double nearest to that probability: half a unit in
 * its last place, through the density, is what any algorithm must be allowed.
 */
function allowed(p: string | undefined, x: number, densityOf: (x: number) => number): number {
  if (p === undefined || Number(p) < 0.9) return TOLERANCE;
  return TOLERANCE + 1.2e-16 / (densityOf(x) * Math.abs(x));
}

function slope(probability: (x: number) => number): (x: number) => number {
  return (x) => Math.abs(probability(x * (1 + 1e-6)) - probability(x * (1 - 1e-6))) / (2e-6 * Math.abs(x));
}

describe('the normal distribution', () => {
  it.each(published.normal.quantile)('quantile %o', (entry) => {
    const { z } = entry;
    const found =
      'p' in entry && entry.p !== undefined
        ? normalQuantile(Number(entry.p))
        : -normalQuantile(Number(entry.upperTailP));
    expect(relative(found, z)).toBeLessThanOrEqual(
      allowed('p' in entry ? entry.p : undefined, Number(z), slope(normalTail)),
    );
  });

  it.each(published.normal.upperTail)('tail %o', ({ z, upperTailP }) => {
    expect(relative(normalTail(Number(z)), upperTailP)).toBeLessThanOrEqual(TOLERANCE);
  });

  it('is symmetric, and complete at its ends', () => {
    expect(normalTail(-3) + normalTail(3)).toBeCloseTo(1, 15);
    expect([normalQuantile(0), normalQuantile(1)]).toEqual([-Infinity, Infinity]);
    expect([normalTail(Infinity), normalTail(-Infinity)]).toEqual([0, 1]);
    expect(normalQuantile(1.5)).toBeNaN();
  });
});

describe("Student's t distribution", () => {
  it('210 quantiles hold 12 digits', () => {
    for (const entry of published.t.quantile) {
      const dof = Number(entry.df);
      const found =
        'p' in entry && entry.p !== undefined
          ? studentQuantile(Number(entry.p), dof)
          : -studentQuantile(Number(entry.upperTailP), dof);
      const limit = allowed('p' in entry ? entry.p : undefined, Number(entry.t), (t) =>
        studentDensity(t, dof),
      );
      expect(relative(found, entry.t), JSON.stringify(entry)).toBeLessThanOrEqual(limit);
    }
  });

  it('112 tails hold 12 digits', () => {
    for (const { df, t, upperTailP } of published.t.upperTail)
      expect(relative(studentTail(Number(t), Number(df)), upperTailP), `${df} ${t}`).toBeLessThanOrEqual(
        TOLERANCE,
      );
  });

  it('a million degrees of freedom, computed with 40 digits', () => {
    expect(relative(studentTail(2, 1e6), '0.02275026692565960421059253085')).toBeLessThan(1e-14);
    expect(relative(studentQuantile(0.975, 1e6), '1.959966356814107035258960556754')).toBeLessThan(1e-14);
  });

  it('with one degree of freedom is tan(π(p − ½)), out to p = 1e-300', () => {
    expect(relative(studentQuantile(0.75, 1), 1)).toBeLessThan(1e-14);
    expect(relative(studentQuantile(1e-300, 1), -1 / (Math.PI * 1e-300))).toBeLessThan(1e-13);
    expect(relative(studentTail(1e150, 1), 1 / (Math.PI * 1e150))).toBeLessThan(1e-13);
  });

  it('with infinitely many is the normal distribution', () => {
    expect(studentQuantile(0.975, Infinity)).toBe(normalQuantile(0.975));
    expect(studentTail(1.5, Infinity)).toBe(normalTail(1.5));
    expect(studentProbability(-1.5, Infinity)).toBe(normalTail(1.5));
  });
});

describe('the chi-square distribution', () => {
  it('80 quantiles hold 12 digits', () => {
    for (const { df, p, chi2 } of published.chi2.quantile) {
      const dof = Number(df);
      const density = slope((x) => chiSquareTail(x, dof));
      const limit = allowed(p, Number(chi2), density);
      expect(relative(chiSquareQuantile(Number(p), dof), chi2), `${df} ${p}`).toBeLessThanOrEqual(limit);
    }
  });

  it('64 pairs of tails hold 12 digits, both of them', () => {
    for (const { df, chi2, lowerTailP, upperTailP } of published.chi2.tails) {
      expect(relative(chiSquareProbability(Number(chi2), Number(df)), lowerTailP)).toBeLessThanOrEqual(
        TOLERANCE,
      );
      expect(relative(chiSquareTail(Number(chi2), Number(df)), upperTailP)).toBeLessThanOrEqual(TOLERANCE);
    }
  });
});

describe("Fisher's F distribution", () => {
  it('42 quantiles hold 12 digits', () => {
    for (const { df1, df2, p, F } of published.F.quantile) {
      const [upper, lower] = [Number(df1), Number(df2)];
      const limit = allowed(
        p,
        Number(F),
        slope((x) => fTail(x, upper, lower)),
      );
      expect(relative(fQuantile(Number(p), upper, lower), F), `${df1} ${df2} ${p}`).toBeLessThanOrEqual(
        limit,
      );
    }
  });

  it('49 pairs of tails hold 12 digits, both of them', () => {
    for (const { df1, df2, F, lowerTailP, upperTailP } of published.F.tails) {
      expect(relative(fProbability(Number(F), Number(df1), Number(df2)), lowerTailP)).toBeLessThanOrEqual(
        TOLERANCE,
      );
      expect(relative(fTail(Number(F), Number(df1), Number(df2)), upperTailP)).toBeLessThanOrEqual(TOLERANCE);
    }
  });
});

describe('quantiles undo tails', () => {
  // The rounding of a quantile itself shows in the tail, more so where the distribution is narrow.
  it.each([0.3, 1, 2.5, 7, 30, 1e3, 1e5, 1e8])('with %d degrees of freedom', (dof) => {
    const limit = 1e-12 + 1e-14 * Math.sqrt(dof);
    for (const p of [1e-12, 0.01, 0.3, 0.5 - 1e-9, 0.5 + 1e-9, 0.7, 0.99]) {
      expect(relative(studentProbability(studentQuantile(p, dof), dof), p)).toBeLessThan(limit);
      expect(relative(chiSquareProbability(chiSquareQuantile(p, dof), dof), p)).toBeLessThan(limit);
      expect(relative(chiSquareTail(chiSquareUpperQuantile(p, dof), dof), p)).toBeLessThan(limit);
      expect(relative(fTail(fUpperQuantile(p, 3, dof), 3, dof), p)).toBeLessThan(limit);
    }
  });

  it('a quantile too small for a double is next to 0, one too large Infinity', () => {
    expect(chiSquareQuantile(1e-200, 1)).toBeLessThan(1e-307);
    expect(studentQuantile(1e-200, 0.3)).toBe(-Infinity);
  });
});
