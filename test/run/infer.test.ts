import { describe, expect, it } from 'vitest';
import { infer } from '../../src/run/index.ts';
import { change, pipelineFrom, sentencesOf } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';
import { drawTruth, plantTrials } from './plant-trials.ts';

/** A straight line read with a ruler: slope A, height B, the readings' scatter known and nothing else uncertain. */
const LINE_LAB = `benchwright: 1
title: A line
quantities:
  A: { value: 2, u: 0.5 }
  B: { value: 1 m, u: 0.5 m }
  z: { value: 0 m }
model:
  relation: y = A*(x + z) + B
  over: { x: [0 m, 1 m, 2 m, 3 m, 4 m] }
instruments:
  rule: { kind: ruler, of: y, division: 1 mm, spread: 100 mm }
reduction:
  each run:
    - readings: { of: rule, gives: [x_r, y_r] }
    - line: { of: y_r, against: x_r, slope: s, intercept: i }
results: { s: { unit: "1" }, i: { unit: m } }
plan: { repeats: 5 }
infer: { free: [A, B], using: [s, i] }
`;

/** How many of the intervals ± 1.96 u of each free quantity hold the planted truth. */
function countCovered(text: string, rehearsals: number): number[] {
  const pipeline = pipelineFrom(text);
  const covered = pipeline.lab.infer.free.map(() => 0);
  for (let rehearsal = 0; rehearsal < rehearsals; rehearsal++) {
    const truth = drawTruth(pipeline, 10_000 + rehearsal);
    const { free } = must(infer(pipeline, plantTrials(pipeline, truth, rehearsal), { pairs: 256 }));
    for (const [index, { quantity, posterior }] of free.entries()) {
      const { low, high } = posterior.interval;
      if (low <= truth[quantity.index] && truth[quantity.index] <= high) covered[index] += 1;
    }
  }
  return covered;
}

describe('infer recovers what was planted', () => {
  it('to the digits of readings without scatter', () => {
    const text = change(LINE_LAB, ['spread: 100 mm', 'spread: 1 mm'], ['division: 1 mm', 'division: 1 um']);
    const pipeline = pipelineFrom(text);
    const truth = Float64Array.from(pipeline.nominal);
    truth[0] = 2.31;
    truth[1] = 0.62;
    const { free, chiSquare, degreesOfFreedom, data } = must(
      infer(pipeline, plantTrials(pipeline, truth, 1)),
    );
    expect(free.map(({ quantity }) => quantity.name)).toEqual(['A', 'B']);
    for (const { quantity, posterior, shift, prior } of free) {
      expect(Math.abs(posterior.value - truth[quantity.index])).toBeLessThan(
        3 * posterior.standardUncertainty,
      );
      expect(posterior.standardUncertainty).toBeLessThan(2e-3);
      expect(shift).toBeCloseTo((posterior.value - prior.value) / prior.standardUncertainty, 12);
    }
    expect(degreesOfFreedom).toBe(2);
    // The priors were planted 0.6 and 0.8 standard uncertainties away, which they say for themselves.
    expect(chiSquare).toBeGreaterThan(0.62 ** 2 + 0.76 ** 2 - 0.1);
    for (const { before, after, measured, standardUncertainty } of data) {
      expect(Math.abs(after - measured)).toBeLessThan(3 * standardUncertainty);
      expect(Math.abs(before - measured)).toBeGreaterThan(10 * standardUncertainty);
    }
  });

  it('with the covariance of a straight line, where the readings say all (any textbook: r = −x̄/√mean of x²)', () => {
    const text = change(
      LINE_LAB,
      ['u: 0.5 }', 'u: 50 }'],
      ['u: 0.5 m', 'u: 50 m'],
      ['repeats: 5', 'repeats: 400'],
    );
    const pipeline = pipelineFrom(text);
    const { free, correlations } = must(infer(pipeline, plantTrials(pipeline, pipeline.nominal, 3)));
    const perRun = 0.1 / Math.sqrt(10);
    expect(free[0].posterior.standardUncertainty / (perRun / 20)).toBeCloseTo(1, 0.9);
    expect(free[1].posterior.standardUncertainty / ((perRun * Math.sqrt(6)) / 20)).toBeCloseTo(1, 0.9);
    expect(correlations[1]).toBeCloseTo(-2 / Math.sqrt(6), 1);
  });
});

describe('an interval of 95 % holds the planted truth in 93 % to 97 % of the rehearsals, within twice the binomial error', () => {
  const WIDE: readonly [string, string][] = [];
  /** Priors that weigh about as much as the runs. */
  const ALIKE: readonly [string, string][] = [
    ['u: 0.5 }', 'u: 0.016 }'],
    ['u: 0.5 m', 'u: 39 mm'],
  ];
  const LIMITS: readonly [string, string][] = [
    ['u: 0.5 }', 'within: 0.03 }'],
    ['u: 0.5 m', 'within: 68 mm'],
  ];
  it.each([
    ['of four runs, priors that weigh as much as they do', [...ALIKE, ['repeats: 5', 'repeats: 4']], 1000],
    ['of four runs, limits that weigh as much as they do', [...LIMITS, ['repeats: 5', 'repeats: 4']], 400],
    ['of five runs, priors far wider than the data', WIDE, 400],
    [
      'of three groups of three runs',
      [...ALIKE, ['repeats: 5', 'settings: { z: [0 m, 1 m, 2 m] }, repeats: 3']],
      300,
    ],
    ['of two runs', [...ALIKE, ['repeats: 5', 'repeats: 2']], 400],
    ['of a single run, which leans on what is rehearsed', [...ALIKE, ['repeats: 5', 'repeats: 1']], 400],
    ['of runs that differ', [['z: { value: 0 m }', 'z: { value: 0 m, each run: { within: 50 mm } }']], 300],
  ] as const)('%s', (_, changes, rehearsals) => {
    const text = change(LINE_LAB, ...changes.map(([from, to]): [string, string] => [from, to]));
    const error = 2 * Math.sqrt((0.95 * 0.05) / rehearsals);
    for (const covered of countCovered(text, rehearsals)) {
      expect(covered / rehearsals).toBeGreaterThanOrEqual(0.93 - error);
      expect(covered / rehearsals).toBeLessThanOrEqual(0.97 + error);
    }
  });

  it('of priors that are correlated', () => {
    const text = `${change(LINE_LAB, ...ALIKE.map(([from, to]): [string, string] => [from, to]))}correlations: [{ between: [A, B], is: 0.9 }]\n`;
    for (const covered of countCovered(text, 400)) {
      expect(covered / 400).toBeGreaterThanOrEqual(0.93 - 0.022);
      expect(covered / 400).toBeLessThanOrEqual(0.97 + 0.022);
    }
  });
});

describe('infer says what the data cannot say', () => {
  it('two quantities of which only the sum is seen are told as such', () => {
    const text = change(
      LINE_LAB,
      ['B: { value: 1 m', 'C: { value: 1 m, u: 0.5 m }\n  B: { value: 1 m'],
      ['+ B\n', '+ B + C\n'],
      ['free: [A, B]', 'free: [A, B, C]'],
    );
    const pipeline = pipelineFrom(text);
    const { indistinguishable, free } = must(infer(pipeline, plantTrials(pipeline, pipeline.nominal, 5)));
    expect(indistinguishable.map(({ between }) => between.map(({ name }) => name))).toEqual([['B', 'C']]);
    expect(indistinguishable[0]?.correlation).toBeLessThan(-0.95);
    // Each alone is known no better than 0.5/√2, though their sum is known to 0.1.
    expect(free[1].posterior.standardUncertainty).toBeCloseTo(0.5 / Math.SQRT2, 1);
  });

  it('a quantity that moves nothing keeps its prior and is named', () => {
    const text = change(
      LINE_LAB,
      ['over:', 'over:'],
      ['z: { value: 0 m }', 'z: { value: 0 m }\n  q: { value: 3 m, u: 0.2 m }'],
      ['+ B\n', '+ B + 1e-6*q\n'],
      ['free: [A, B]', 'free: [A, q]'],
    );
    const pipeline = pipelineFrom(text);
    const { uninformed, alongside, free } = must(infer(pipeline, plantTrials(pipeline, pipeline.nominal, 6)));
    expect(uninformed.map(({ name }) => name)).toEqual(['q']);
    expect(alongside.map(({ name }) => name)).toEqual(['B']);
    expect(free[1].posterior.value).toBeCloseTo(3, 3);
    expect(free[1].posterior.standardUncertainty).toBeCloseTo(0.2, 3);
  });

  it('a correlation of the priors is kept where the data are silent', () => {
    const text = `${change(LINE_LAB, ['repeats: 5', 'repeats: 30'], ['z: { value: 0 m }', 'z: { value: 0 m }\n  q: { value: 3 m, u: 0.2 m }'], ['+ B\n', '+ B + 0*q\n'], ['free: [A, B]', 'free: [B, q]'])}correlations: [{ between: [B, q], is: 0.8 }]\n`;
    const pipeline = pipelineFrom(text);
    const truth = Float64Array.from(pipeline.nominal);
    truth[1] = 1.5;
    const { free } = must(infer(pipeline, plantTrials(pipeline, truth, 6)));
    // B moves by about one standard uncertainty, and q by 0.8 of its own; normal conditioning, any textbook.
    expect(free[1].shift / free[0].shift).toBeCloseTo(0.8, 4);
    expect(free[1].posterior.standardUncertainty / 0.2).toBeCloseTo(Math.sqrt(1 - 0.8 ** 2), 1);
  });

  it('without trials, with nothing free, or with nothing to fit, it says so', () => {
    const pipeline = pipelineFrom(LINE_LAB);
    expect(sentencesOf(infer(pipeline, []))).toEqual([
      'lab.yaml  The lab has no trials, so there is nothing to infer from. Add trials to the lab file.',
    ]);
    const trials = plantTrials(pipeline, pipeline.nominal, 1);
    expect(sentencesOf(infer(pipeline, trials, { free: [] }))).toEqual([
      'lab.yaml  No quantity is free. Name quantities under "infer: { free: […] }".',
    ]);
    expect(sentencesOf(infer(pipeline, trials, { free: ['z', 'Q'] }))).toEqual([
      'lab.yaml  z states no uncertainty, so the trials cannot correct it.',
      'lab.yaml  Q is not a quantity of this lab, so the trials cannot correct it.',
    ]);
    const without = pipelineFrom(change(LINE_LAB, ['using: [s, i]', 'using: []']));
    expect(sentencesOf(infer(without, trials))).toEqual([
      'lab.yaml  No result of single runs is there to be fitted. Name scalars of "each run" under "infer: { using: […] }".',
    ]);
  });

  it('single runs are taken to scatter as rehearsed, with a word on it', () => {
    const pipeline = pipelineFrom(change(LINE_LAB, ['repeats: 5', 'repeats: 1']));
    const outcome = infer(pipeline, plantTrials(pipeline, pipeline.nominal, 1));
    expect(outcome.ok && outcome.warnings.map(({ code }) => code)).toContain('few-runs');
  });

  it('runs without any scatter cannot be weighed', () => {
    const text = change(LINE_LAB, ['division: 1 mm, spread: 100 mm', 'division: 100 m']);
    const pipeline = pipelineFrom(text);
    expect(sentencesOf(infer(pipeline, plantTrials(pipeline, pipeline.nominal, 1)))).toEqual([
      expect.stringMatching(/without any scatter|state no uncertainty/),
    ]);
  });
});
