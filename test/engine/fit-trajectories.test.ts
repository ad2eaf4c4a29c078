import { describe, expect, it } from 'vitest';
import { createTrajectoryFitter } from '../../src/engine/index.ts';
import { createEvolver } from '../../src/evolve/index.ts';
import { fitByDifferences, fitNonlinear, randomSource } from '../../src/inference/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from '../evolve/model-from-texts.ts';

const pendulum: ModelTexts = {
  parameters: { l: [0.9, 'm'], g: [9.81, 'm/s^2'], c: [0.05, '1/s'], a: [0.5, ''] },
  states: { theta: ['a', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta) - c*omega'] },
  lasts: '10 s',
  signals: { angle: 'theta' },
};

/** A block on a spring, which friction stops: the batch engine leaves it to the general evolution. */
const block: ModelTexts = {
  parameters: { k: [10, 'N/m'], m: [0.25, 'kg'], F: [0.07, 'N'], x_0: [0.05, 'm'] },
  states: { x: ['x_0', 'v'], v: ['0 m/s', '(-k*x - dry(F, v))/m'] },
  lasts: '5 s',
  signals: { place: 'x' },
};

function readingsOf(texts: ModelTexts, times: readonly number[], deviation: number): number[] {
  const motion = unwrap(createEvolver(modelOf(texts)).run(valuesOf(texts), { relativeTolerance: 1e-12 }));
  const random = randomSource(5);
  return times.map((t) => motion.signalAt(0, t) + deviation * random.normal());
}

function timesOf(startS: number, intervalS: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => startS + i * intervalS);
}

describe('free quantities of a model, fitted to readings along its motion', () => {
  const readings = { signal: 0, startS: 0.02, intervalS: 0.02, count: 499 };
  const times = timesOf(0.02, 0.02, 499);
  const start = valuesOf(pendulum, { l: 1, c: 0.04, a: 0.55 });

  it('a pendulum: the values and uncertainties of a slow fit by the general evolution', () => {
    const y = readingsOf(pendulum, times, 0.005);
    const quick = unwrap(createTrajectoryFitter(modelOf(pendulum), readings).fit(start, [0, 2, 3], y));
    const evolver = createEvolver(modelOf(pendulum));
    const follow = (p: Float64Array, values: Float64Array): void => {
      const row = valuesOf(pendulum, { l: p[0], c: p[1], a: p[2] });
      const motion = unwrap(evolver.run(row, { relativeTolerance: 1e-12 }));
      for (const [i, t] of times.entries()) values[i] = motion.signalAt(0, t);
    };
    const above = new Float64Array(times.length);
    const below = new Float64Array(times.length);
    const slow = unwrap(
      fitNonlinear({
        y,
        start: [1, 0.04, 0.55],
        effort: 'single',
        evaluate: (p, values, jacobian) => {
          follow(p, values);
          for (const [j, column] of (jacobian ?? []).entries()) {
            const h = 1e-5;
            follow(
              p.map((value, i) => (i === j ? value + h : value)),
              above,
            );
            follow(
              p.map((value, i) => (i === j ? value - h : value)),
              below,
            );
            for (let i = 0; i < column.length; i++) column[i] = (above[i] - below[i]) / (2 * h);
          }
        },
      }),
    );
    for (const [j, value] of slow.parameters.entries()) {
      const u = slow.standardUncertainties[j];
      expect(Math.abs(quick.parameters[j] - value)).toBeLessThan(1e-5 * u);
      expect(Math.abs(quick.standardUncertainties[j] / u - 1)).toBeLessThan(1e-5);
    }
    expect(Math.abs(quick.sumOfSquares / slow.sumOfSquares - 1)).toBeLessThan(1e-7);
    expect(quick.degreesOfFreedom).toBe(496);
  });

  it('finds back what it was made from, where readings have no noise', () => {
    const y = readingsOf(pendulum, times, 0);
    const { parameters } = unwrap(
      createTrajectoryFitter(modelOf(pendulum), readings).fit(start, [0, 2, 3], y),
    );
    for (const [j, value] of [0.9, 0.05, 0.5].entries())
      expect(Math.abs(parameters[j] / value - 1)).toBeLessThan(1e-7);
  });

  it('friction that sticks goes the general way to the same end', () => {
    const sampled = { signal: 0, startS: 0.05, intervalS: 0.05, count: 60 };
    const y = readingsOf(block, timesOf(0.05, 0.05, 60), 1e-4);
    const fitter = createTrajectoryFitter(modelOf(block), sampled);
    const found = unwrap(fitter.fit(valuesOf(block, { k: 10.5, F: 0.06 }), [0, 2], y, { uy: 1e-4 }));
    for (const [j, truth] of [10, 0.07].entries())
      expect(Math.abs(found.parameters[j] - truth)).toBeLessThan(4 * found.standardUncertainties[j]);
    expect(found.uncertaintyFrom).toBe('stated');
  });

  it('two quantities that only act together are named', () => {
    const y = readingsOf(pendulum, times, 0.005);
    const outcome = createTrajectoryFitter(modelOf(pendulum), readings).fit(start, [0, 1, 3], y);
    const fit = unwrap(outcome);
    expect([...fit.standardUncertainties.slice(0, 2)]).toEqual([
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ]);
    expect(fit.standardUncertainties[2]).toBeLessThan(0.01);
    expect(fit.warnings.map(({ message }) => message).join()).toContain('cannot tell l and g apart');
  });

  it('a motion that ends before the last reading lies outside the domain', () => {
    const long = { ...readings, count: 700 };
    const outcome = createTrajectoryFitter(modelOf(pendulum), long).fit(start, [0], new Float64Array(700));
    expect(outcome.ok ? [] : outcome.problems.map(({ code }) => code)).toEqual(['outside-domain']);
  });
});

describe('a fit by differences', () => {
  const x = Float64Array.from({ length: 40 }, (_, i) => i / 10);
  const random = randomSource(9);
  const y = x.map((value) => 3 * Math.exp(-0.7 * value) + 0.02 * random.normal());
  const evaluateMany = (sets: Float64Array, m: number, values: Float64Array): void => {
    for (let set = 0; set < m; set++)
      for (let i = 0; i < x.length; i++)
        values[set * x.length + i] = sets[2 * set] * Math.exp(-sets[2 * set + 1] * x[i]);
  };

  it.each([
    [1, 1],
    [100, 0.1],
    [0.1, 5],
  ])('from %f and %f ends where the fit with exact derivatives does', (a, b) => {
    const found = unwrap(fitByDifferences({ y, start: [a, b], evaluateMany }));
    const exact = unwrap(
      fitNonlinear({
        y,
        start: [a, b],
        evaluate: (p, values, jacobian) => {
          for (let i = 0; i < x.length; i++) {
            const e = Math.exp(-p[1] * x[i]);
            values[i] = p[0] * e;
            if (jacobian !== null) {
              jacobian[0][i] = e;
              jacobian[1][i] = -p[0] * x[i] * e;
            }
          }
        },
      }),
    );
    for (const [j, value] of exact.parameters.entries())
      expect(Math.abs(found.parameters[j] - value)).toBeLessThan(1e-5 * exact.standardUncertainties[j]);
  });

  it('tells what is wrong', () => {
    const codes = (outcome: ReturnType<typeof fitByDifferences>) =>
      outcome.ok ? [] : outcome.problems.map(({ code }) => code);
    expect(codes(fitByDifferences({ y: [1, 2], start: [1, 1], evaluateMany }))).toEqual(['too-few-readings']);
    expect(
      codes(
        fitByDifferences({ y, start: [1, 1], evaluateMany: (_s, _m, values) => values.fill(Number.NaN) }),
      ),
    ).toEqual(['outside-domain']);
    expect(codes(fitByDifferences({ y, start: [1, 1], evaluateMany, signal: { aborted: true } }))).toEqual([
      'aborted',
    ]);
  });
});
