import { describe, expect, it } from 'vitest';
import type { Pipeline } from '../../src/lab/index.ts';
import { measureStepShifts, plannedGroups } from '../../src/run/index.ts';
import { pipelineFrom } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';

interface Trial {
  /** The signal and its parts, as formulas of the time T, which is itself a state. */
  readonly signal: string;
  readonly instrument: string;
  readonly steps: readonly string[];
  readonly result: string;
  readonly unit: string;
  readonly lastsS?: number;
}

/** A motion whose signal is a given function of time, and what is read and reduced of it. */
function pipelineOf({ signal, instrument, steps, result, unit, lastsS = 1 }: Trial): Pipeline {
  return pipelineFrom(`benchwright: 1
title: A function of time
quantities:
  one: { value: 1 m, u: 1 mm }
  R:   { value: 1 m, u: 1 mm }
  s:   { value: 1 s }
where:
  y: one*(${signal})
model:
  start: { T: 0 s }
  rates: { T: 1 }
  lasts: ${lastsS} s
instruments:
  eye: ${instrument}
reduction:
  each run:
${steps.map((step) => `    - ${step}`).join('\n')}
results:
  ${result}: { unit: "${unit}" }
`);
}

/** Shift of each step, by its words. */
function shiftsOf(trial: Trial): Map<string, number> {
  const pipeline = pipelineOf(trial);
  const [group] = plannedGroups(pipeline.lab);
  const found = must(measureStepShifts(pipeline, group, pipeline.nominal, 0));
  return new Map(found.map(({ step, shifts }) => [step, shifts.get(trial.result) ?? Number.NaN]));
}

const SAMPLED = '{ kind: sampled, of: y, rate: 100 Hz }';
const READ = 'readings: { of: eye, gives: [t, y_r] }';

describe('the shift of speeds by three neighbours', () => {
  const speedAt = (signal: string, last = 'mean: { of: w, while: t > 0.495 s and t < 0.505 s, gives: r }') =>
    shiftsOf({
      signal,
      instrument: SAMPLED,
      steps: ['motion from samples: { of: eye, gives: [t, x, w] }', last],
      result: 'r',
      unit: 'm/s',
    });

  it('is zero in steady acceleration, for which a central difference is exact', () => {
    expect(Math.abs(speedAt('3*(T/s)^2').get('motion from samples of eye') ?? 1)).toBeLessThan(1e-9);
  });

  it('is the square of the spacing in a cubic: (x(t + h) − x(t − h))/2h = 3t² + h²', () => {
    expect(speedAt('(T/s)^3').get('motion from samples of eye')).toBeCloseTo(1e-4, 9);
  });

  it('is that of edges too: zero for equal angles in steady acceleration', () => {
    const steps = [
      'motion from edges: { of: eye, radius: R, gives: [t, x, w] }',
      'line: { of: w, against: t, slope: r }',
    ];
    const instrument = '{ kind: edges, of: y/R, edges per turn: 40 }';
    const found = shiftsOf({ signal: '3*(T/s)^2', instrument, steps, result: 'r', unit: 'm/s^2' });
    expect(Math.abs(found.get('motion from edges of eye') ?? 1)).toBeLessThan(1e-8);
  });
});

describe('the shift of readings without gaps', () => {
  it('is what the largest of the samples lies below a parabola whose top is between them', () => {
    // The top at 0.5037 s is 3.7 ms from the nearest sample.
    const found = shiftsOf({
      signal: '1 - ((T - 0.5037*s)/s)^2',
      instrument: SAMPLED,
      steps: [READ, 'peak: { of: y_r, gives: r }'],
      result: 'r',
      unit: 'm',
    });
    expect(found.get('peak of y_r')).toBeCloseTo(-(0.0037 ** 2), 10);
    expect(found.get('readings of eye')).toBeCloseTo(0, 12);
  });

  it('is gone where a parabola is laid through the three highest samples of a parabola', () => {
    const found = shiftsOf({
      signal: '1 - ((T - 0.5037*s)/s)^2',
      instrument: SAMPLED,
      steps: [READ, 'peak: { of: y_r, against: t, by: parabola, gives: r }'],
      result: 'r',
      unit: 'm',
    });
    expect(found.get('peak of y_r')).toBeCloseTo(0, 10);
  });

  it('is that of a mean over a window: n samples of t² from a to b against (b³ − a³)/3(b − a)', () => {
    const found = shiftsOf({
      signal: '(T/s)^2',
      instrument: '{ kind: sampled, of: y, rate: 20 Hz }',
      steps: [READ, 'mean: { of: y_r, while: t > 0.21 s and t < 0.77 s, gives: r }'],
      result: 'r',
      unit: 'm',
    });
    const samples = Array.from({ length: 11 }, (_, i) => (0.25 + 0.05 * i) ** 2);
    const sampled = samples.reduce((sum, y) => sum + y, 0) / samples.length;
    const exact = (0.77 ** 3 - 0.21 ** 3) / (3 * (0.77 - 0.21));
    expect(found.get('mean of y_r')).toBeCloseTo(sampled - exact, 9);
  });

  it.each([3, 6, 12])(
    'is what is wrong with the period of a sine, 2π/ω, that is read %i times a second',
    (rate) => {
      const trial: Trial = {
        signal: 'sin(7.3*T/s)',
        lastsS: 4,
        instrument: `{ kind: sampled, of: y, rate: ${rate} Hz }`,
        steps: [READ, 'period: { of: y_r, against: t, level: 0 m, gives: r }'],
        result: 'r',
        unit: 's',
      };
      const pipeline = pipelineOf(trial);
      const values = pipeline.values(pipeline.nominal);
      const run = must(pipeline.reduce(must(pipeline.simulate(values)).readings, values));
      const wrong = (run.scalars.get('r')?.value ?? Number.NaN) - (2 * Math.PI) / 7.3;
      expect(Math.abs(wrong)).toBeGreaterThan(1e-7);
      expect(Math.abs((shiftsOf(trial).get('period of y_r') ?? Number.NaN) - wrong)).toBeLessThan(1e-8);
    },
  );
});

describe('the shift of smoothing', () => {
  const smoothed = (signal: string, order: 'smooth' | 'derivative') =>
    shiftsOf({
      signal,
      instrument: SAMPLED,
      steps: [
        READ,
        `${order}: { of: y_r, against: t, bandwidth: 5 Hz, gives: y_s }`,
        'mean: { of: y_s, while: t > 0.495 s and t < 0.505 s, gives: r }',
      ],
      result: 'r',
      unit: order === 'smooth' ? 'm' : 'm/s',
    }).get(`${order} of y_r against t`);

  it('is zero for a cubic, through which the local cubic passes', () => {
    expect(smoothed('1 - 4*(T/s - 0.5)^2 + 2*(T/s - 0.5)^3', 'smooth')).toBeCloseTo(0, 11);
    expect(smoothed('1 - 4*(T/s - 0.5)^2 + 2*(T/s - 0.5)^3', 'derivative')).toBeCloseTo(0, 8);
  });

  it('takes off 1 − 1/√2 of the height of a cosine at the bandwidth itself (the meaning of −3 dB)', () => {
    expect(smoothed('cos(2*pi*5*(T/s - 0.5))', 'smooth')).toBeCloseTo(Math.SQRT1_2 - 1, 3);
  });

  it('is that of a moving mean where the camera is open for w: −w²·curvature/24 at the top of a parabola', () => {
    // y = 1 − 4(t − t₀)²: curvature 8/s², the mean over w lies 8·w²/24 lower.
    const w = 0.04;
    const found = shiftsOf({
      signal: '1 - 4*(T/s - 0.5)^2',
      instrument: `{ kind: frames, of: y, rate: 20 Hz, exposure: ${w} s }`,
      steps: [READ, 'mean: { of: y_r, gives: r }'],
      result: 'r',
      unit: 'm',
    });
    expect(found.get('readings of eye')).toBeCloseTo((-8 * w ** 2) / 24, 10);
  });
});

describe('shifts of several steps', () => {
  it('add up to what the reduction as a whole shifts', () => {
    const found = shiftsOf({
      signal: 'cos(2*pi*2*(T/s - 0.5037))',
      instrument: '{ kind: sampled, of: y, rate: 50 Hz, lag: 5 ms }',
      steps: [
        READ,
        'smooth: { of: y_r, against: t, bandwidth: 5 Hz, gives: y_s }',
        'keep: { while: t > 0.4 s and t < 0.7 s }',
        'column: { of: 2*y_s, gives: twice }',
        'peak: { of: twice, gives: r }',
      ],
      result: 'r',
      unit: 'm',
    });
    expect([...found.keys()]).toEqual(['readings of eye', 'smooth of y_r against t', 'peak of twice']);
    // Exact, the peak is 2; the lag lowers it by 1/√(1 + (2πfτ)²), and what is left of it is smoothed and sampled.
    const sum = [...found.values()].reduce((total, shift) => total + shift, 0);
    expect(sum).toBeLessThan(-0.003);
    for (const shift of found.values()) expect(shift).toBeLessThan(1e-3);
  });

  it('are not measured where nothing is known: a fitted line has none', () => {
    const steps = [READ, 'line: { of: y_r, against: t, slope: r }'];
    const found = shiftsOf({ signal: '(T/s)^2', instrument: SAMPLED, steps, result: 'r', unit: 'm/s' });
    expect([...found.keys()]).toEqual(['readings of eye']);
  });
});
