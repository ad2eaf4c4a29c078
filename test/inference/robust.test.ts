import { describe, expect, it } from 'vitest';
import {
  type Evaluate,
  fitLine,
  fitNonlinear,
  type LossName,
  randomSource,
} from '../../src/inference/index.ts';
import { expectDigits, valueFrom } from './support.ts';

// Brownlee's stack loss data (Statistical Theory and Methodology, 1965); from memory.
const air = [80, 80, 75, 62, 62, 62, 62, 62, 58, 58, 58, 58, 58, 58, 50, 50, 50, 50, 50, 56, 70];
const water = [27, 27, 25, 24, 22, 23, 24, 24, 23, 18, 18, 17, 18, 19, 18, 18, 19, 19, 20, 20, 20];
const acid = [89, 88, 90, 87, 87, 87, 93, 93, 87, 80, 89, 88, 82, 93, 89, 86, 72, 79, 80, 82, 91];
const loss = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15];

const plane: Evaluate = (p, values, jacobian) => {
  for (let i = 0; i < loss.length; i += 1) {
    values[i] = p[0] + p[1] * air[i] + p[2] * water[i] + p[3] * acid[i];
    jacobian?.forEach((column, j) => {
      column[i] = [1, air[i], water[i], acid[i]][j];
    });
  }
};

describe('robust loss', () => {
  it('Huber on the stack loss data, as Venables and Ripley print it (Modern Applied Statistics, 2002; from memory)', () => {
    const fit = valueFrom(fitNonlinear({ y: loss, evaluate: plane, start: [0, 0, 0, 0], loss: 'huber' }));
    expect(Array.from(fit.parameters, (value) => value.toFixed(4))).toEqual([
      '-41.0265',
      '0.8294',
      '0.9261',
      '-0.1278',
    ]);
    // The printed ones belong to an iteration that stopped at 1e-4.
    expectDigits(fit.standardUncertainties, [9.8073, 0.1112, 0.3034, 0.1289], 3);
    expect(fit.uncertaintyFrom).toBe('scatter');
  });

  it.each(['huber', 'cauchy'] as const)('%s: a stray moves the line little', (name) => {
    const x = Float64Array.from({ length: 30 }, (_, i) => i / 10);
    const random = randomSource(2);
    const clean = x.map((value) => 2 + 3 * value + 0.05 * random.normal());
    const stray = clean.slice();
    stray[25] += 40;
    const line: Evaluate = (p, values, jacobian) => {
      for (let i = 0; i < x.length; i += 1) values[i] = p[0] + p[1] * x[i];
      jacobian?.[0].fill(1);
      jacobian?.[1].set(x);
    };
    const fitted = (y: Float64Array, loss: LossName) =>
      valueFrom(fitNonlinear({ y, evaluate: line, start: [0, 0], loss }));
    const undisturbed = valueFrom(fitLine(x, clean));
    const robust = fitted(stray, name);
    expect(Math.abs(robust.parameters[1] - 3)).toBeLessThan(4 * robust.standardUncertainties[1]);
    expect(Math.abs(robust.parameters[1] - undisturbed.parameters[1])).toBeLessThan(
      2 * undisturbed.standardUncertainties[1],
    );
    expect(Math.abs(fitted(stray, 'squares').parameters[1] - 3)).toBeGreaterThan(1);
    expectDigits([fitted(clean, name).parameters[1]], [undisturbed.parameters[1]], 2);
  });
});
