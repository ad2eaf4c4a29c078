import { describe, expect, it } from 'vitest';
import { randomSource, studentQuantile } from '../../src/inference/index.ts';
import { beginRun, type PreparedReduction } from '../../src/reduction/index.ts';
import {
  type Bench,
  kindNamed,
  LENGTH,
  ONE,
  prepared,
  quantityVector,
  runOn,
  type StepsInYaml,
  scalar,
  TIME,
} from './bench.ts';

// A chain that runs away from x_0: x = x_0·cosh(κt), so v² = κ²·(x² − x_0²).
const KAPPA = 1.5;
const START = 0.15;
const RADIUS = 0.025;
const END = Math.acosh(1.14 / START) / KAPPA;

function sourceOf(kappa: number) {
  const turned = (t: number) => (START * (Math.cosh(kappa * t) - 1)) / RADIUS;
  return {
    kind: 'motion' as const,
    startS: 0,
    endS: END,
    breaks: new Float64Array(0),
    dimension: ONE,
    valueAt: turned,
    valueBefore: turned,
  };
}

function bench(clock: number, weights: 'none' | 'stated', steps = lineSteps(weights)): Bench {
  return {
    quantities: {
      R: { value: RADIUS, dimension: LENGTH },
      x_0: { value: START, dimension: LENGTH },
    },
    instruments: {
      'wheel gate': { kind: 'edges', shape: { dimension: ONE }, settings: { 'edges per turn': 10, clock } },
    },
    steps,
  };
}

function lineSteps(weights: 'none' | 'stated'): StepsInYaml {
  return [
    { 'motion from edges': { of: 'wheel gate', radius: 'R', start: 'x_0', gives: ['t', 'x', 'v'] } },
    { keep: { while: 'x > 0.20 m and x < 1.05 m' } },
    { line: { of: 'v^2', against: 'x^2', slope: 'k2', intercept: 'b', weights } },
  ];
}

function observe(clock: number, seed: number | null, kappa = KAPPA) {
  const observed = kindNamed('edges').observe(
    sourceOf(kappa),
    new Map<string, number>([
      ['edges per turn', 10],
      ['clock', clock],
    ]),
    seed === null ? null : randomSource(seed),
  );
  if (!observed.ok) throw new Error('observed');
  return observed.value;
}

function reduceSeed(
  reduction: PreparedReduction,
  setup: Bench,
  clock: number,
  seed: number | null,
  reports = true,
  kappa = KAPPA,
) {
  const state = beginRun('run 1', new Map([['wheel gate', observe(clock, seed, kappa)]]), {
    keepsReports: reports,
  });
  const outcome = reduction.run(state, quantityVector(setup));
  if (!outcome.ok) throw new Error(outcome.problems[0].message);
  return state;
}

describe('a chain that runs away, from edge times to the slope of v² against x²', () => {
  it('gives κ² to the accuracy of speeds over three edges (closed form)', () => {
    const setup = bench(0, 'none');
    const state = reduceSeed(prepared(setup), setup, 0, null);
    expect(scalar(state, 'k2').value / KAPPA ** 2).toBeCloseTo(1, 3);
    expect(scalar(state, 'b').value).toBeCloseTo(-(KAPPA ** 2) * START ** 2, 3);
    expect(scalar(state, 'k2').dimension).toEqual([0, 0, -2, 0, 0, 0, 0]);
  });

  it('gives the same slope with and without reports', () => {
    const setup = bench(1e-5, 'none');
    const reduction = prepared(setup);
    const full = scalar(reduceSeed(reduction, setup, 1e-5, 3), 'k2');
    const lean = scalar(reduceSeed(reduction, setup, 1e-5, 3, false), 'k2');
    expect(Math.abs(lean.value / full.value - 1)).toBeLessThan(1e-12);
    expect(lean.standardUncertainty).toBeNaN();
  });

  for (const weights of ['none', 'stated'] as const) {
    it(`states an uncertainty that covers, with a clock of 0.2 ms and weights ${weights} (1000 seeded runs)`, () => {
      const clock = 2e-4;
      const setup = bench(clock, weights);
      const reduction = prepared(setup);
      let covered = 0;
      const runs = 1000;
      for (let seed = 0; seed < runs; seed++) {
        // No two runs are alike to a tick of the clock; the speeds over three edges have a small bias of their
        // own, which prediction and measurement share.
        const kappa = KAPPA * (1 + 0.01 * randomSource(1000 + seed).normal());
        const truth = scalar(reduceSeed(reduction, setup, clock, null, false, kappa), 'k2').value;
        const k2 = scalar(reduceSeed(reduction, setup, clock, seed, true, kappa), 'k2');
        const factor = studentQuantile(0.975, k2.degreesOfFreedom);
        if (Math.abs(k2.value - truth) <= factor * k2.standardUncertainty) covered += 1;
      }
      expect(covered).toBeGreaterThanOrEqual(930);
      expect(covered).toBeLessThanOrEqual(970);
    });
  }

  it('is told where the clock is too coarse for squares of speeds', () => {
    const setup = bench(1e-3, 'none');
    const { notes } = reduceSeed(prepared(setup), setup, 1e-3, 1);
    expect(notes.map((note) => note.code)).toContain('coarse-clock');
    expect(reduceSeed(prepared(setup), bench(1e-4, 'none'), 1e-4, 1).fits).toHaveLength(1);
  });

  it('tells how many readings are left, and the window, where a line has too few', () => {
    const setup = bench(0, 'none', [
      { 'motion from edges': { of: 'wheel gate', radius: 'R', start: 'x_0', gives: ['t', 'x', 'v'] } },
      { keep: { while: 'x > 0.20 m and x < 0.225 m' } },
      { line: { of: 'v^2', against: 'x^2', slope: 'k2' } },
    ]);
    const { outcome } = runOn(setup, {
      'wheel gate': { edge: { values: observe(0, null).columns[0].values, dimension: TIME } },
    });
    if (outcome.ok) throw new Error('too few');
    expect(outcome.problems[0].place.step).toBe('reduction, line of v² against x², run 1');
    expect(outcome.problems[0].message).toBe(
      '1 reading is left after "keep"; a line needs at least 3. The window is x > 0.20 m and x < 0.225 m.',
    );
  });
});
