import { describe, expect, it } from 'vitest';
import { normalProbability } from '../../src/inference/index.ts';
import { compareModels, groupRuns, infer, type WeighedModel } from '../../src/run/index.ts';
import { likelihoodOf } from '../../src/run/infer-likelihood.ts';
import { poolScatter } from '../../src/run/infer-scatter.ts';
import { change, pipelineFrom, sentencesOf, sentencesOn } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';
import { drawTruth, plantTrials } from './plant-trials.ts';

/** A straight line read at three places with a ruler: its height there is the one number of each run. */
const LINE_LAB = `benchwright: 1
title: A line
quantities:
  A: { value: 0.2, u: 0.1 }
  B: { value: 0.3 m, u: 0.2 m }
  z: { value: 0 m }
model:
  relation: y = A*z + B + 0*x
  over: { x: [0 m, 1 m, 2 m, 3 m] }
instruments:
  rule: { kind: ruler, of: y, division: 1 mm, spread: 100 mm }
reduction:
  each run:
    - readings: { of: rule, gives: [x_r, y_r] }
    - mean: { of: y_r, gives: h }
results: { h: { unit: m } }
plan: { settings: { z: [0 m, 1 m, 2 m] }, repeats: 1 }
infer:
  free: [A, B]
  using: [h]
  models:
    level: { set: { A: 0 } }
    rising from nought: { set: { B: 0 m, A: { value: 0.2, u: 0.3 } } }
    rising: {}
    of any slope: { set: { A: { value: 0, within: 1 } } }
`;

interface Data {
  readonly z: readonly number[];
  readonly h: readonly number[];
  readonly u: readonly number[];
}

/** The lab with trials planted at A, B, and what the comparison has to rest on. */
function plantLine(text: string, [A, B]: readonly [number, number], seed: number) {
  const pipeline = pipelineFrom(text);
  const truth = Float64Array.from(pipeline.nominal);
  truth.set([A, B]);
  const trials = plantTrials(pipeline, truth, seed);
  const { data } = must(infer(pipeline, trials));
  const known: Data = {
    z: data.map((_, index) => index),
    h: data.map(({ measured }) => measured),
    u: data.map(({ standardUncertainty }) => standardUncertainty),
  };
  return { pipeline, trials, data: known };
}

/** ln of the density of h where A and B are normal: normal, with the covariance S + J·P·Jᵀ (any textbook). */
function logNormalEvidence({ z, h, u }: Data, A: [number, number], B: [number, number]): number {
  const n = h.length;
  const matrix = z.map((zi, i) =>
    z.map((zj, j) => zi * zj * A[1] ** 2 + B[1] ** 2 + (i === j ? (u[i] ?? 0) ** 2 : 0)),
  );
  const rest = h.map((value, i) => value - A[0] * (z[i] ?? 0) - B[0]);
  // Gauss's elimination, the right side along.
  let logarithm = -(n / 2) * Math.log(2 * Math.PI);
  for (let k = 0; k < n; k++) {
    const pivot = matrix[k]?.[k] ?? Number.NaN;
    logarithm -= Math.log(pivot) / 2 + (rest[k] ?? 0) ** 2 / (2 * pivot);
    for (let i = k + 1; i < n; i++) {
      const factor = (matrix[i]?.[k] ?? 0) / pivot;
      rest[i] = (rest[i] ?? 0) - factor * (rest[k] ?? 0);
      matrix[i] = (matrix[i] ?? []).map((value, j) => value - factor * (matrix[k]?.[j] ?? 0));
    }
  }
  return logarithm;
}

/** Simpson's rule with so many steps, an even number. */
function simpson(of: (x: number) => number, from: number, to: number, count: number): number {
  const h = (to - from) / count;
  let sum = 0;
  for (let i = 0; i <= count; i++)
    sum += (i === 0 || i === count ? 1 : i % 2 === 1 ? 4 : 2) * of(from + i * h);
  return (sum * h) / 3;
}

const by = (found: readonly WeighedModel[], name: string) => {
  const one = found.find(({ model }) => model.name === name);
  if (one === undefined) throw new Error(`no model ${name}`);
  return one;
};
const between = (found: readonly WeighedModel[], first: string, second: string) =>
  by(found, first).logEvidence - by(found, second).logEvidence;

describe('models are weighed by their evidence', () => {
  it.each([
    [0.05, 0.3, 1],
    [0.2, 0.1, 2],
    [0.45, -0.2, 3],
  ])('a line planted at %s, %s: the odds are those of the closed form for normal beliefs', (A, B, seed) => {
    const { pipeline, trials, data } = plantLine(LINE_LAB, [A, B], seed);
    const found = must(compareModels(pipeline, trials));
    const level = logNormalEvidence(data, [0, 0], [0.3, 0.2]);
    const fromNought = logNormalEvidence(data, [0.2, 0.3], [0, 0]);
    const rising = logNormalEvidence(data, [0.2, 0.1], [0.3, 0.2]);
    expect(between(found, 'level', 'rising')).toBeCloseTo(level - rising, 2);
    expect(between(found, 'rising from nought', 'rising')).toBeCloseTo(fromNought - rising, 2);
    expect(found.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    for (const { weight, logEvidence } of found)
      expect(weight / Math.exp(logEvidence)).toBeCloseTo(
        by(found, found[0]?.model.name ?? '').weight / Math.exp(found[0]?.logEvidence ?? 0),
        12,
      );
  });

  it('a value that may be nought: √(1 + (Σ/σ)²)·exp(−λ²/2/(1 + (σ/Σ)²)) (Trotta 2008, Contemporary Physics 49, 71)', () => {
    const text = change(
      LINE_LAB,
      ['value: 0.3 m, u: 0.2 m', 'value: 0 m'],
      ['z: [0 m, 1 m, 2 m]', 'z: [1 m]'],
      ['free: [A, B]', 'free: [A]'],
      ['    rising from nought: { set: { B: 0 m, A: { value: 0.2, u: 0.3 } } }\n', ''],
      ['rising: {}', 'rising: { set: { A: { value: 0, u: 0.8 } } }'],
    );
    for (const A of [0, 0.08, 0.2]) {
      const { pipeline, trials, data } = plantLine(text, [A, 0], 4);
      const [h, sigma] = [data.h[0] ?? Number.NaN, data.u[0] ?? Number.NaN];
      const found = must(compareModels(pipeline, trials));
      const expected = Math.log(1 + (0.8 / sigma) ** 2) / 2 - (h / sigma) ** 2 / 2 / (1 + (sigma / 0.8) ** 2);
      expect(between(found, 'level', 'rising')).toBeCloseTo(expected, 2);
      // Any slope within ±1, each alike: the likelihood's own area over the width.
      const phi = (x: number) => normalProbability((x - h) / sigma);
      const flat = Math.log((sigma * Math.sqrt(2 * Math.PI) * (phi(1) - phi(-1))) / 2);
      expect(between(found, 'level', 'of any slope')).toBeCloseTo(-((h / sigma) ** 2) / 2 - flat, 2);
    }
  });

  it('a model that fits nowhere: as the likelihood integrated by Simpson’s rule over what each allows', () => {
    // Five runs a place that rise steeply: the level model can only call it scatter.
    const text = change(LINE_LAB, ['repeats: 1', 'repeats: 5'], ['u: 0.2 m', 'within: 2 m']);
    const { pipeline, trials, data } = plantLine(text, [0.9, 0.1], 5);
    const groups = groupRuns(pipeline.lab, trials);
    const likelihood = likelihoodOf(must(poolScatter(pipeline, groups, ['h'])), groups);
    const logLikelihood = (A: number, B: number) =>
      likelihood(Float64Array.from(data.h, (h, i) => A * (data.z[i] ?? 0) + B - h));
    const overB = (A: number) => simpson((B) => Math.exp(logLikelihood(A, B)), -1.7, 2.3, 2000) / 4;
    const anySlope = simpson(overB, -1, 1, 400) / 2;
    const found = must(compareModels(pipeline, trials));
    expect(between(found, 'level', 'of any slope')).toBeCloseTo(Math.log(overB(0) / anySlope), 1);
    expect(between(found, 'level', 'of any slope')).toBeLessThan(-10);
  });

  it('says what each model leaves of what it frees', () => {
    const { pipeline, trials } = plantLine(LINE_LAB, [0.2, 0.1], 2);
    const found = must(compareModels(pipeline, trials));
    expect(by(found, 'level').free).toEqual([]);
    const [slope] = by(found, 'of any slope').free;
    expect(slope?.quantity.name).toBe('A');
    expect(slope?.prior.standardUncertainty).toBeCloseTo(1 / Math.sqrt(3), 12);
    expect(slope?.posterior.standardUncertainty).toBeLessThan(0.1);
  });

  it('does without a comparison where the lab names no models', () => {
    const pipeline = pipelineFrom(LINE_LAB.slice(0, LINE_LAB.indexOf('  models:')));
    expect(must(compareModels(pipeline, []))).toEqual([]);
  });
});

describe('a weight is right as often as it says', () => {
  it('among 600 schools, half of them with a level line and half with a rising one', () => {
    const text = change(
      LINE_LAB,
      ['A: { value: 0.2, u: 0.1 }', 'A: { value: 0, u: 0.1 }'],
      ['    rising from nought: { set: { B: 0 m, A: { value: 0.2, u: 0.3 } } }\n', ''],
      ['    of any slope: { set: { A: { value: 0, within: 1 } } }\n', ''],
      ['repeats: 1', 'repeats: 3'],
    );
    const pipeline = pipelineFrom(text);
    const schools = 600;
    const weights: { readonly weight: number; readonly isLevel: boolean }[] = [];
    for (let school = 0; school < schools; school++) {
      const isLevel = school % 2 === 0;
      const truth = drawTruth(pipeline, 5000 + school);
      if (isLevel) truth[0] = 0;
      const found = must(compareModels(pipeline, plantTrials(pipeline, truth, school), { pairs: 128 }));
      weights.push({ weight: by(found, 'level').weight, isLevel });
    }
    // In each third of the schools, ordered by weight: the share of level lines is the mean weight.
    const order = weights.toSorted((a, b) => a.weight - b.weight);
    for (let third = 0; third < 3; third++) {
      const own = order.slice((third * schools) / 3, ((third + 1) * schools) / 3);
      const mean = own.reduce((sum, { weight }) => sum + weight, 0) / own.length;
      const share = own.filter(({ isLevel }) => isLevel).length / own.length;
      const error = Math.sqrt((mean * (1 - mean)) / own.length);
      expect(Math.abs(share - mean)).toBeLessThan(3 * error + 0.005);
    }
    // And the comparison tells something: the weights are not all alike.
    expect((order.at(-1)?.weight ?? 0) - (order[0]?.weight ?? 0)).toBeGreaterThan(0.5);
  });
});

describe('models that cannot be weighed are told', () => {
  const told = (from: string, to: string) => sentencesOn(change(LINE_LAB, [from, to]));

  it('a single one', () => {
    const text = LINE_LAB.slice(0, LINE_LAB.indexOf('    rising from'));
    expect(sentencesOn(text)).toEqual([
      'lab.yaml:21:3  There is one model, which has nothing to be weighed against. Name a second one, such as that of the lab as it stands: "as it stands: {}".',
    ]);
  });

  it('one that sets what differs from setting to setting, or what the reduction reckons with', () => {
    expect(told('level: { set: { A: 0 } }', 'level: { set: { z: 1 m } }')).toEqual([
      'lab.yaml:22:21  The model "level" sets z, which differs from setting to setting.',
    ]);
    const text = change(LINE_LAB, ['of: y_r, gives: h', 'of: y_r + B, gives: h']);
    expect(sentencesOn(text)).toEqual([
      'lab.yaml:23:34  The model "rising from nought" sets B, which is what the steps of "each run" reckon with, so the models would not be told of the same numbers.',
    ]);
  });

  it('one that sets a symbol which is not there, or in another dimension', () => {
    expect(told('level: { set: { A: 0 } }', 'level: { set: { C: 0 } }')[0]).toMatch(
      /^lab.yaml:22:21 {2}"C" is not/,
    );
    expect(told('level: { set: { A: 0 } }', 'level: { set: { A: 1 m } }')[0]).toMatch(
      /^lab.yaml:22:24 {2}A is set to "1 m"/,
    );
  });

  it('one that cannot be followed', () => {
    const text = change(LINE_LAB, ['A*z + B', 'A*z + B*(1 + 0*sqrt(A + 1))'], ['A: 0 }', 'A: -2 }']);
    const pipeline = pipelineFrom(text);
    const sentences = sentencesOf(compareModels(pipeline, plantTrials(pipeline, pipeline.nominal, 1)));
    expect(sentences.join('\n')).toContain('This is in the model "level".');
  });

  it('no trials', () => {
    expect(sentencesOf(compareModels(pipelineFrom(LINE_LAB), []))).toEqual([
      'lab.yaml  The lab has no trials, so there is nothing to infer from. Add trials to the lab file.',
    ]);
  });
});
