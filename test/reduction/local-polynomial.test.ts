import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { localPolynomialWeights } from '../../src/reduction/index.ts';
import { savitzkyGolay } from '../published/savitzky-golay.ts';
import { type Bench, LENGTH, prepared, runOn, sentencesOf, TIME } from './bench.ts';

describe('a local polynomial', () => {
  for (const { order, degree, integers, norm } of savitzkyGolay) {
    it(`of degree ${degree} over ${integers.length} even readings has the published weights for derivative ${order}`, () => {
      const half = (integers.length - 1) / 2;
      const places = integers.map((_, i) => i - half);
      const weights = localPolynomialWeights(
        places,
        places.map(() => 1),
        degree,
        order,
      );
      expect(Array.from(weights)).toEqual(integers.map((integer) => expect.closeTo(integer / norm, 13)));
    });
  }
});

function samples(of: (t: number) => number, times: readonly number[]) {
  return {
    ranger: {
      t: { values: times, dimension: TIME },
      value: { values: times.map(of), dimension: LENGTH },
    },
  };
}

function bench(bandwidth: string | undefined, gives = ['t', 'x', 'v', 'a']): Bench {
  return {
    instruments: { ranger: { kind: 'sampled', shape: { dimension: LENGTH }, settings: { rate: 100 } } },
    steps: [
      {
        'motion from samples': { of: 'ranger', gives, ...(bandwidth === undefined ? {} : { bandwidth }) },
      },
    ],
  };
}

const evenly = (count: number, spacing: number) => Array.from({ length: count }, (_, i) => i * spacing);

function column(state: ReturnType<typeof runOn>['state'], name: string) {
  const found = state.columns.get(name);
  if (found === undefined) throw new Error(name);
  return found;
}

describe('motion from samples', () => {
  it('gives position, speed and acceleration of a cubic exactly, at even and uneven spacing', () => {
    const x = (t: number) => 0.3 - 0.7 * t + 1.1 * t * t - 0.4 * t ** 3;
    const uneven = evenly(200, 0.01).map((t, i) => t + 0.002 * Math.sin(3.7 * i));
    for (const times of [evenly(200, 0.01), uneven]) {
      const { state, outcome } = runOn(bench('8 Hz'), samples(x, times));
      expect(sentencesOf(outcome)).toEqual([]);
      const t = column(state, 't').values;
      expect(t.length).toBeGreaterThan(150);
      t.forEach((each, i) => {
        expect(column(state, 'x').values[i]).toBeCloseTo(x(each), 10);
        expect(column(state, 'v').values[i]).toBeCloseTo(-0.7 + 2.2 * each - 1.2 * each ** 2, 9);
        expect(column(state, 'a').values[i]).toBeCloseTo(2.2 - 2.4 * each, 7);
      });
    }
  });

  it('lets a wave of the stated bandwidth pass at 1/√2, whatever the spacing (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 20, noNaN: true }),
        fc.double({ min: 6, max: 60, noNaN: true }),
        (bandwidth, perWave) => {
          const omega = 2 * Math.PI * bandwidth;
          const spacing = 1 / (bandwidth * perWave);
          const times = evenly(Math.ceil(6 * perWave), spacing);
          const { state } = runOn(
            bench(`${bandwidth} Hz`),
            samples((t) => Math.sin(omega * t), times),
          );
          const t = column(state, 't').values;
          t.forEach((each, i) => {
            const part = Math.SQRT1_2;
            expect(column(state, 'x').values[i]).toBeCloseTo(part * Math.sin(omega * each), 6);
            expect(column(state, 'v').values[i] / omega).toBeCloseTo(part * Math.cos(omega * each), 6);
            expect(column(state, 'a').values[i] / omega ** 2).toBeCloseTo(-part * Math.sin(omega * each), 6);
          });
        },
      ),
      { seed: 2, numRuns: 40 },
    );
  });

  it('without a bandwidth takes the parabola through three neighbours, exact for steady acceleration', () => {
    const times = [0, 0.1, 0.25, 0.3, 0.5];
    const { state } = runOn(
      bench(undefined),
      samples((t) => 1 + 2 * t - 4.9 * t * t, times),
    );
    expect(Array.from(column(state, 'v').values)).toEqual(
      [0.1, 0.25, 0.3].map((t) => expect.closeTo(2 - 9.8 * t, 10)),
    );
    expect(Array.from(column(state, 'a').values)).toEqual(
      [-9.8, -9.8, -9.8].map((a) => expect.closeTo(a, 8)),
    );
  });

  it('states the noise that is left after smoothing, and how neighbours share it', () => {
    const setup: Bench = {
      ...bench('8 Hz'),
      instruments: {
        ranger: { kind: 'sampled', shape: { dimension: LENGTH }, settings: { rate: 100, noise: 1 } },
      },
    };
    const { state } = runOn(
      setup,
      samples(() => 0, evenly(100, 0.01)),
    );
    // White noise of 1 m through a unit impulse answers with the filter's own weights.
    const impulse = evenly(100, 0.01);
    const { state: answered } = runOn(
      setup,
      samples((t) => (Math.abs(t - 0.5) < 1e-6 ? 1 : 0), impulse),
    );
    const expected = Math.sqrt(column(answered, 'v').values.reduce((sum, each) => sum + each * each, 0));
    const { u } = column(state, 'v');
    if (typeof u === 'number') throw new Error('one a row');
    expect(u[20]).toBeCloseTo(expected, 9);
  });

  it('says which bandwidth the readings allow where they are too far apart', () => {
    const { outcome } = runOn(
      bench('50 Hz'),
      samples((t) => t, evenly(100, 0.01)),
    );
    expect(sentencesOf(outcome)[0]).toMatch(
      /^reduction, motion from samples of ranger, run 1 {2}a bandwidth of 50\.0 Hz is asked for, and readings 0\.0100 s apart allow at most \d+\.\d Hz\. Take a lower bandwidth or a higher rate\.$/,
    );
  });

  it('leaves out rows beside a gap, and says so', () => {
    const times = evenly(300, 0.01).filter((t) => t < 1 || t > 1.5);
    const { state, outcome } = runOn(
      bench('8 Hz', ['t', 'x', 'v']),
      samples((t) => t, times),
    );
    expect(sentencesOf(outcome)).toEqual([]);
    expect(state.notes.map((note) => note.code)).toEqual(['sparse-readings']);
    column(state, 'v').values.forEach((v) => {
      expect(v).toBeCloseTo(1, 9);
    });
  });

  it('of one reading, or of none, is refused in words', () => {
    for (const count of [0, 1]) {
      const { outcome } = runOn(
        bench('8 Hz'),
        samples((t) => t, evenly(count, 0.01)),
      );
      expect(sentencesOf(outcome)[0]).toContain(`${count} reading`);
    }
  });
});

describe('smooth and derivative', () => {
  const setup: Bench = {
    instruments: { ranger: { kind: 'sampled', shape: { dimension: LENGTH }, settings: { rate: 100 } } },
    steps: [
      { readings: { of: 'ranger', gives: ['t', 'x'] } },
      { smooth: { of: 'x', against: 't', bandwidth: '10 Hz', gives: 'xs' } },
      { derivative: { of: 'xs', against: 't', bandwidth: '10 Hz', gives: 'v' } },
      { column: { of: 'v - x/t', gives: 'w' } },
    ],
  };

  it('shorten all columns of the rows alike, and keep dimensions', () => {
    const { state, outcome } = runOn(
      setup,
      samples((t) => 3 * t, evenly(100, 0.01)),
    );
    expect(sentencesOf(outcome)).toEqual([]);
    const lengths = ['t', 'x', 'xs', 'v', 'w'].map((name) => column(state, name).values.length);
    expect(new Set(lengths).size).toBe(1);
    expect(column(state, 'v').dimension).toEqual([1, 0, -1, 0, 0, 0, 0]);
    column(state, 'w').values.forEach((each) => {
      expect(each).toBeCloseTo(0, 10);
    });
  });

  it('need a bandwidth in one over the abscissa', () => {
    expect(() =>
      prepared({
        ...setup,
        steps: [setup.steps[0], { smooth: { of: 'x', against: 't', bandwidth: '10 s', gives: 'xs' } }],
      }),
    ).toThrow('step.2.bandwidth  "10 s" has the dimension s; the bandwidth must have 1/s.');
  });
});
