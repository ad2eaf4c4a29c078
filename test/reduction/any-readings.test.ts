import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beginRun } from '../../src/reduction/index.ts';
import {
  type Bench,
  FORCE,
  LENGTH,
  ONE,
  prepared,
  quantityVector,
  readingsOf,
  sentencesOf,
  TIME,
} from './bench.ts';

const bench: Bench = {
  quantities: { R: { value: 0.02, dimension: LENGTH } },
  instruments: {
    gate: { kind: 'edges', shape: { dimension: ONE }, settings: { 'edges per turn': 10, clock: 1e-3 } },
    cell: {
      kind: 'sampled',
      shape: { dimension: FORCE },
      settings: { rate: 10, noise: 0.1, resolution: 0.01 },
    },
    ranger: { kind: 'sampled', shape: { dimension: LENGTH }, settings: { rate: 10 } },
    camera: { kind: 'frames', shape: { dimension: LENGTH }, settings: { rate: 10, pixel: 0.01 } },
    track: { kind: 'gates', shape: { dimension: LENGTH }, settings: { flag: 0.02, clock: 1e-3 } },
  },
  steps: [],
};

const onCell = { readings: { of: 'cell', gives: ['t', 'F'] } };
const chains: Record<string, Bench['steps']> = {
  'edges, line': [
    { 'motion from edges': { of: 'gate', radius: 'R', gives: ['t', 'x', 'v'] } },
    { keep: { while: 'x > 0.02 m' } },
    { line: { of: 'v^2', against: 'x^2', slope: 'k' } },
  ],
  'edges, line with weights': [
    { 'motion from edges': { of: 'gate', radius: 'R', gives: ['t', 'x', 'v'] } },
    { line: { of: 'v', against: 't', slope: 'k', intercept: 'b', weights: 'stated' } },
  ],
  'samples, smoothed': [
    { 'motion from samples': { of: 'ranger', gives: ['t', 'x', 'v', 'a'], bandwidth: '1 Hz' } },
    { mean: { of: 'a', gives: 'a_m' } },
  ],
  frames: [
    { 'motion from frames': { of: 'camera', gives: ['t', 'x', 'v', 'a'] } },
    { polynomial: { of: 'v', against: 't', degree: 1, gives: ['c', 'd'] } },
  ],
  gates: [
    { 'motion from gates': { of: 'track', gives: ['t', 'x', 'v'] } },
    { line: { of: 'v', against: 'x', slope: 'k', errors: 'one' } },
  ],
  period: [onCell, { period: { of: 'F', against: 't', gives: 'T' } }],
  peaks: [
    onCell,
    { zero: { column: 'F', while: 't < 1 s' } },
    { peak: { of: 'F', gives: 'p' } },
    { peak: { of: 'F', gives: 'q', by: 'parabola', against: 't', points: 5 } },
  ],
  'smooth, derivative, mean': [
    onCell,
    { smooth: { of: 'F', against: 't', bandwidth: '1 Hz', gives: 'S' } },
    { derivative: { of: 'S', against: 't', bandwidth: '1 Hz', gives: 'D' } },
    { mean: { of: 'D', gives: 'm' } },
  ],
  fit: [onCell, { fit: { of: 'F', as: 'A*exp(-t/tau)', free: { A: '1 N', tau: '1 s' } } }],
};

const anyNumber = fc.oneof(
  { weight: 8, arbitrary: fc.double({ min: -3, max: 10, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(Number.NaN, Infinity, -Infinity, 0, 1e300, -1e-300) },
);

/** Rising times with some untidiness, or anything. */
const times = fc.oneof(
  fc.array(fc.double({ min: 1e-6, max: 0.5, noNaN: true }), { maxLength: 40 }).map((steps) => {
    let t = 0;
    return steps.map((step) => (t += step));
  }),
  fc.array(anyNumber, { maxLength: 40 }),
);

describe('any readings whatever', () => {
  for (const [name, steps] of Object.entries(chains)) {
    it(`either give results or a sentence, never an exception: ${name}`, () => {
      const setup = { ...bench, steps };
      const reduction = prepared(setup);
      const quantities = quantityVector(setup);
      fc.assert(
        fc.property(
          times,
          fc.array(anyNumber, { minLength: 40, maxLength: 40 }),
          fc.boolean(),
          (t, numbers, reports) => {
            const values = numbers.slice(0, t.length);
            const readings = readingsOf({
              gate: { edge: { values: t, dimension: TIME } },
              cell: { t: { values: t, dimension: TIME }, value: { values, dimension: FORCE } },
              ranger: { t: { values: t, dimension: TIME }, value: { values, dimension: LENGTH } },
              camera: { t: { values: t, dimension: TIME }, place: { values, dimension: LENGTH } },
              track: {
                place: { values, dimension: LENGTH },
                time: { values: t, dimension: TIME },
                blocked: { values: values.map(Math.abs), dimension: TIME },
              },
            });
            const state = beginRun('run 1', readings, { keepsReports: reports });
            const outcome = reduction.run(state, quantities);
            if (!outcome.ok) {
              for (const sentence of sentencesOf(outcome)) expect(sentence).toMatch(/[.!?]$/);
              expect(outcome.problems.length).toBeGreaterThan(0);
            }
          },
        ),
        { seed: 17, numRuns: 150 },
      );
    });
  }
});
