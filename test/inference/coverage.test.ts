import { describe, expect, it } from 'vitest';
import {
  coverageFactor,
  type Evaluate,
  type Fit,
  fitLine,
  fitNonlinear,
  fitNonlinearInBoth,
  meanOf,
  type RandomSource,
  randomSource,
} from '../../src/inference/index.ts';
import type { Outcome } from '../../src/problem/index.ts';
import { valueFrom } from './support.ts';

const REPEATS = 1000;

interface Reported {
  readonly value: number;
  readonly u: number;
  readonly degreesOfFreedom: number;
}

function reportedBy(outcome: Outcome<Fit>): readonly Reported[] {
  const fit = valueFrom(outcome);
  const degreesOfFreedom = fit.uncertaintyFrom === 'scatter' ? fit.degreesOfFreedom : Infinity;
  return Array.from(fit.parameters, (value, j) => ({
    value,
    u: fit.standardUncertainties[j],
    degreesOfFreedom,
  }));
}

/** How many of 1000 rehearsals have the truth inside the 95 % interval of each parameter. */
function coverage(
  truth: readonly number[],
  rehearse: (random: RandomSource) => readonly Reported[],
): readonly number[] {
  const hits = truth.map(() => 0);
  for (let repeat = 0; repeat < REPEATS; repeat += 1) {
    const reported = rehearse(randomSource(77).fork(repeat));
    reported.forEach(({ value, u, degreesOfFreedom }, j) => {
      if (Math.abs(value - truth[j]) <= coverageFactor(degreesOfFreedom, 0.95) * u) hits[j] += 1;
    });
  }
  return hits;
}

function fitCoverage(
  truth: readonly number[],
  fitOf: (random: RandomSource) => Outcome<Fit>,
): readonly number[] {
  return coverage(truth, (random) => reportedBy(fitOf(random)));
}

function expectCoverage(hits: readonly number[]): void {
  for (const count of hits) {
    // 950 expected; 930 to 970 is three standard deviations of the count either way.
    expect(count).toBeGreaterThanOrEqual(930);
    expect(count).toBeLessThanOrEqual(970);
  }
}

describe('the reported 95 % interval holds the truth in 93 to 97 % of rehearsals', () => {
  const x = Float64Array.from({ length: 8 }, (_, i) => i);
  const noisy = (random: RandomSource, sd: number) => x.map((value) => 1 - 2 * value + sd * random.normal());

  it('straight line, uncertainty from the scatter of eight readings', () => {
    expectCoverage(fitCoverage([1, -2], (random) => fitLine(x, noisy(random, 0.4))));
  });

  it('straight line, stated uncertainties, each reading its own', () => {
    const uy = x.map((value) => 0.1 + 0.1 * value);
    expectCoverage(
      fitCoverage([1, -2], (random) =>
        fitLine(
          x,
          x.map((value, i) => 1 - 2 * value + uy[i] * random.normal()),
          { uy },
        ),
      ),
    );
  });

  it('straight line, errors in both and correlated', () => {
    expectCoverage(
      fitCoverage([1, -2], (random) => {
        const [readX, readY] = [new Float64Array(8), new Float64Array(8)];
        x.forEach((value, i) => {
          const common = random.normal();
          readX[i] = value + 0.05 * common;
          readY[i] = 1 - 2 * value + 0.1 * (0.6 * common + 0.8 * random.normal());
        });
        return fitLine(readX, readY, { ux: 0.05, uy: 0.1, correlation: 0.6 });
      }),
    );
  });

  it('mean of five readings', () => {
    expectCoverage(
      coverage([3], (random) => {
        const mean = valueFrom(meanOf(Array.from({ length: 5 }, () => 3 + random.normal())));
        return [{ value: mean.value, u: mean.standardUncertainty, degreesOfFreedom: mean.degreesOfFreedom }];
      }),
    );
  });

  const time = Float64Array.from({ length: 20 }, (_, i) => i / 5);
  const decay: Evaluate = (p, values, jacobian) => {
    for (let i = 0; i < time.length; i += 1) {
      const e = Math.exp(-p[1] * time[i]);
      values[i] = p[0] * e + p[2];
      if (jacobian) {
        jacobian[0][i] = e;
        jacobian[1][i] = -p[0] * time[i] * e;
        jacobian[2][i] = 1;
      }
    }
  };
  const decayed = (t: number) => 3 * Math.exp(-0.8 * t) + 0.5;

  it('decay with offset, scatter', () => {
    expectCoverage(
      fitCoverage([3, 0.8, 0.5], (random) =>
        fitNonlinear({
          y: time.map((t) => decayed(t) + 0.05 * random.normal()),
          evaluate: decay,
          start: [2, 1, 0],
          effort: 'single',
        }),
      ),
    );
  });

  it.each(['huber', 'cauchy'] as const)('decay with offset, %s loss on normal errors', (loss) => {
    expectCoverage(
      fitCoverage([3, 0.8, 0.5], (random) =>
        fitNonlinear({
          y: time.map((t) => decayed(t) + 0.05 * random.normal()),
          evaluate: decay,
          start: [3, 0.8, 0.5],
          effort: 'single',
          loss,
        }),
      ),
    );
  });

  it('decay with errors in both', () => {
    expectCoverage(
      fitCoverage([3, 0.8, 0.5], (random) =>
        fitNonlinearInBoth({
          x: time.map((t) => t + 0.03 * random.normal()),
          y: time.map((t) => decayed(t) + 0.03 * random.normal()),
          ux: 0.03,
          uy: 0.03,
          start: [2, 1, 0],
          effort: 'single',
          evaluate: (p, at, values, slopes, jacobian) => {
            for (let i = 0; i < at.length; i += 1) {
              const e = Math.exp(-p[1] * at[i]);
              values[i] = p[0] * e + p[2];
              slopes[i] = -p[1] * p[0] * e;
              if (jacobian) {
                jacobian[0][i] = e;
                jacobian[1][i] = -p[0] * at[i] * e;
                jacobian[2][i] = 1;
              }
            }
          },
        }),
      ),
    );
  });
});
