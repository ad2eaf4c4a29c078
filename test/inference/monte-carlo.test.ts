import { describe, expect, it } from 'vitest';
import {
  drawEstimates,
  normalQuantile,
  prepareDraws,
  propagateMonteCarlo,
  quasiRandomPoints,
  randomSource,
  shortestInterval,
  studentQuantile,
  symmetricInterval,
} from '../../src/inference/index.ts';
import { exactly, withinLimits, withStandardUncertainty } from '../../src/quantity/index.ts';
import { problemsOf, valueFrom } from './support.ts';

describe('random numbers', () => {
  it('are the same for the same seed, in this version as in the first', () => {
    const source = randomSource(2026);
    const found = [
      source.uniform(),
      source.uniform(),
      source.normal(),
      source.fork(3).uniform(),
      source.uniform(),
    ];
    expect(found).toEqual(FIRST_NUMBERS);
  });

  it('of a fork do not depend on what was drawn before it', () => {
    const early = randomSource(7).fork(1).normal();
    const late = randomSource(7);
    for (let i = 0; i < 10; i += 1) late.normal();
    expect(late.fork(1).normal()).toBe(early);
  });

  it.each([
    ['neighbouring seeds', (i: number) => randomSource(i)],
    ['neighbouring forks', (i: number) => randomSource(1).fork(i)],
    [
      'forks of forks',
      (i: number) =>
        randomSource(1)
          .fork(i % 100)
          .fork(i),
    ],
  ])('first draws of %s are uniform and unrelated', (_name, sourceOf) => {
    const n = 20_000;
    const draws = Float64Array.from({ length: n }, (_, i) => sourceOf(i).uniform());
    let sum = 0;
    let lagged = 0;
    const counts = new Float64Array(20);
    draws.forEach((value, i) => {
      sum += value - 0.5;
      counts[Math.floor(value * 20)] += 1;
      if (i > 0) lagged += (value - 0.5) * (draws[i - 1] - 0.5) * 12;
    });
    // Four standard deviations of each statistic; the seed is fixed.
    expect(Math.abs(sum) / Math.sqrt(n / 12)).toBeLessThan(4);
    expect(Math.abs(lagged) / Math.sqrt(n)).toBeLessThan(4);
    const chiSquare = counts.reduce((total, count) => total + (count - n / 20) ** 2 / (n / 20), 0);
    expect(chiSquare).toBeLessThan(19 + 4 * Math.sqrt(38));
  });

  it('normal draws have the moments of the normal distribution', () => {
    const source = randomSource(3);
    const n = 200_000;
    const moments = new Float64Array(5);
    for (let i = 0; i < n; i += 1) {
      const z = source.normal();
      for (let power = 1; power <= 4; power += 1) moments[power] += z ** power / n;
    }
    const allowed = (variance: number) => 4 * Math.sqrt(variance / n);
    expect(Math.abs(moments[1])).toBeLessThan(allowed(1));
    expect(Math.abs(moments[2] - 1)).toBeLessThan(allowed(2));
    expect(Math.abs(moments[3])).toBeLessThan(allowed(15));
    expect(Math.abs(moments[4] - 3)).toBeLessThan(allowed(96));
  });

  it('refuse a seed that is not a number', () => {
    expect(() => randomSource(Number.NaN)).toThrow('finite');
  });
});

// Drawn once with this program; a change breaks every stored rehearsal.
const FIRST_NUMBERS = [
  0.8036506891539474, 0.9340002438323457, 0.21350747544932755, 0.18162633566162678, 0.016695577610694623,
];

describe('draws of estimates', () => {
  const estimates = [
    withStandardUncertainty(10, 2),
    withinLimits(5, Math.sqrt(3)),
    withStandardUncertainty(1, 0.5, 4),
    exactly(7),
  ];

  it('at the quantiles of their own distributions', () => {
    const draw = valueFrom(prepareDraws(estimates));
    const out = new Float64Array(4);
    for (const p of [0.0001, 0.025, 0.5, 0.8, 0.999]) {
      draw.place(new Float64Array(4).fill(p), out);
      expect(out[0]).toBeCloseTo(10 + 2 * normalQuantile(p), 12);
      expect(out[1]).toBeCloseTo(5 + Math.sqrt(3) * (2 * p - 1), 12);
      expect(out[2]).toBeCloseTo(1 + 0.5 * studentQuantile(p, 4), 7);
      expect(out[3]).toBe(7);
    }
  });

  it('have the stated correlations, normal and rectangular alike', () => {
    const correlations = [
      { between: [0, 1], is: 0.8 },
      { between: [1, 2], is: -0.3 },
    ] as const;
    const pair = [estimates[0], estimates[1], withinLimits(0, Math.sqrt(3))];
    const draw = valueFrom(prepareDraws(pair, correlations));
    const random = randomSource(5);
    const out = new Float64Array(3);
    const n = 100_000;
    let first = 0;
    let second = 0;
    for (let i = 0; i < n; i += 1) {
      draw.draw(random, out);
      first += ((out[0] - 10) / 2) * (out[1] - 5);
      second += (out[1] - 5) * out[2];
    }
    expect(Math.abs(first / n - 0.8)).toBeLessThan(0.012);
    expect(Math.abs(second / n + 0.3)).toBeLessThan(0.012);
  });

  it('one by one are those of the prepared way', () => {
    const draw = valueFrom(prepareDraws(estimates));
    const [prepared, single] = [new Float64Array(4), new Float64Array(4)];
    draw.draw(randomSource(9), prepared);
    drawEstimates(estimates, [], randomSource(9), single);
    single.forEach((value, i) => {
      expect(value).toBeCloseTo(prepared[i], 7);
    });
  });

  it('that no quantities can have are refused', () => {
    const three = [0, 1, 2].map(() => withStandardUncertainty(0, 1));
    const outcome = prepareDraws(three, [
      { between: [0, 1], is: 0.9 },
      { between: [1, 2], is: 0.9 },
      { between: [0, 2], is: -0.9 },
    ]);
    expect(problemsOf(outcome).map((found) => found.code)).toEqual(['impossible-correlations']);
  });
});

describe('Monte Carlo propagation', () => {
  const normal = [withStandardUncertainty(0, 1)];

  it('counts the draws that leave the domain and says so', () => {
    const result = valueFrom(
      propagateMonteCarlo({
        evaluate: (inputs, outputs) => {
          outputs[0] = Math.sqrt(inputs[0] + 1);
        },
        estimates: normal,
        random: randomSource(1),
        draws: 10_000,
      }),
    );
    // P(z < −1) = 15.87 %, four standard deviations of the count.
    expect(Math.abs(result.outputs[0].leftDomain - 1587)).toBeLessThan(150);
    expect(result.warnings.map((found) => found.message)).toEqual([
      `${result.outputs[0].leftDomain} of 10000 draws gave no finite value; they are counted, but in none of its figures.`,
    ]);
  });

  it('fails where most draws leave it', () => {
    const outcome = propagateMonteCarlo({
      evaluate: (inputs, outputs) => {
        outputs[0] = Math.log(inputs[0] - 2);
      },
      estimates: normal,
      random: randomSource(1),
      draws: 1000,
    });
    expect(problemsOf(outcome).map((found) => found.code)).toEqual(['left-domain']);
  });

  it('of several outputs gives their covariance', () => {
    const result = valueFrom(
      propagateMonteCarlo({
        evaluate: (inputs, outputs) => {
          outputs[0] = inputs[0];
          outputs[1] = -2 * inputs[0];
        },
        outputs: 2,
        estimates: normal,
        random: randomSource(4),
        draws: 5000,
      }),
    );
    const [a, b, c, d] = result.covariance;
    expect(b).toBe(c);
    expect(d).toBeCloseTo(4 * a, 12);
    expect(b).toBeCloseTo(-2 * a, 12);
    expect(Math.sqrt(a)).toBeCloseTo(result.outputs[0].standardUncertainty, 12);
  });

  it('stops when it is told to, and says when its draws ran out', () => {
    const evaluate = (inputs: Float64Array, outputs: Float64Array) => {
      outputs[0] = inputs[0];
    };
    const stopped = propagateMonteCarlo({
      evaluate,
      estimates: normal,
      random: randomSource(1),
      signal: { aborted: true },
    });
    expect(problemsOf(stopped).map((found) => found.code)).toEqual(['aborted']);
    const short = valueFrom(
      propagateMonteCarlo({ evaluate, estimates: normal, random: randomSource(1), mostDraws: 20_000 }),
    );
    expect(short.warnings.map((found) => found.code)).toEqual(['not-stable']);
    expect(short.draws).toBe(20_000);
  });
});

describe('coverage intervals of sorted draws', () => {
  it('of 1 to 1000 at 95 %: 25.5 cut at either end', () => {
    const sorted = Float64Array.from({ length: 1000 }, (_, i) => i + 1);
    expect(symmetricInterval(sorted, 0.95)).toEqual({ low: 26, high: 976 });
  });
  it('the shortest leaves out the long tail', () => {
    const sorted = Float64Array.from({ length: 1000 }, (_, i) => -Math.log(1 - (i + 0.5) / 1000));
    const { low, high } = shortestInterval(sorted, 0.95);
    expect(low).toBe(sorted[0]);
    expect(high).toBeCloseTo(-Math.log(0.05), 1);
  });
});

describe('quasi-random points', () => {
  it.each([2, 6, 11, 20])(
    'in %d dimensions: 4096 of them err thirty times less than random ones',
    (dimension) => {
      const exact = Array.from({ length: dimension }, (_, j) => 0.3 / (j + 1) ** 2).reduce((a, b) => a + b);
      const meanError = (sourceOf: (seed: number) => (out: Float64Array) => void) => {
        const point = new Float64Array(dimension);
        const repeats = 10;
        let squares = 0;
        for (let seed = 0; seed < repeats; seed += 1) {
          const draw = sourceOf(seed);
          let sum = 0;
          for (let i = 0; i < 4096; i += 1) {
            draw(point);
            let z = 0;
            for (let j = 0; j < dimension; j += 1) z += normalQuantile(point[j]) / (j + 1);
            sum += z + 0.3 * z * z - exact;
          }
          squares += (sum / 4096) ** 2 / repeats;
        }
        return Math.sqrt(squares);
      };
      const quasi = meanError((seed) => {
        const points = quasiRandomPoints(dimension, randomSource(seed));
        return (out) => points.next(out);
      });
      const plain = meanError((seed) => {
        const random = randomSource(seed).fork(1);
        return (out) => {
          for (let j = 0; j < dimension; j += 1) out[j] = random.uniform() + 1e-17;
        };
      });
      expect(quasi * 30).toBeLessThan(plain);
    },
  );

  it('any 256 in a row from a multiple of 256 hit every 256th of every axis once, in 70 dimensions the first 64', () => {
    const points = quasiRandomPoints(70, randomSource(8));
    const point = new Float64Array(70);
    for (let block = 0; block < 3; block += 1) {
      const seen = Array.from({ length: 64 }, () => new Set<number>());
      for (let i = 0; i < 256; i += 1) {
        points.next(point);
        for (let j = 0; j < 64; j += 1) seen[j].add(Math.floor(point[j] * 256));
        expect(point.every((value) => value > 0 && value < 1)).toBe(true);
      }
      expect(seen.map((hit) => hit.size)).toEqual(new Array(64).fill(256));
    }
  });
});
