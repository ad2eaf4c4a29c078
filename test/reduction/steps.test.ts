import { describe, expect, it } from 'vitest';
import { randomSource } from '../../src/inference/index.ts';
import { acrossRunsSteps, beginRun, eachRunSteps } from '../../src/reduction/index.ts';
import {
  type Bench,
  FORCE,
  kindNamed,
  LENGTH,
  ONE,
  prepared,
  quantityVector,
  runOn,
  type StepsInYaml,
  scalar,
  sentencesOf,
  TIME,
} from './bench.ts';

const every = (count: number, spacing: number) => Array.from({ length: count }, (_, i) => i * spacing);

/** Steps on a force cell that read `of` at `times`. */
function onCell(
  steps: StepsInYaml,
  of: (t: number) => number,
  times: readonly number[],
  settings: Record<string, number> = {},
  quantities: Bench['quantities'] = {},
) {
  const bench: Bench = {
    quantities,
    instruments: {
      cell: { kind: 'sampled', shape: { dimension: FORCE }, settings: { rate: 50, ...settings } },
    },
    steps: [{ readings: { of: 'cell', gives: ['t', 'F'] } }, ...steps],
  };
  return runOn(bench, {
    cell: { t: { values: times, dimension: TIME }, value: { values: times.map(of), dimension: FORCE } },
  });
}

function values(state: ReturnType<typeof runOn>['state'], name: string): number[] {
  return Array.from(state.columns.get(name)?.values ?? []);
}

describe('column', () => {
  it('carries the uncertainty of what it is made from, by its derivative (JCGM 100, 5.1.2)', () => {
    const { state } = onCell(
      [{ column: { of: 'F^2/W', gives: 'y' } }],
      (t) => 2 + t,
      [0, 1],
      { noise: 0.1 },
      {
        W: { value: 4, dimension: FORCE },
      },
    );
    const y = state.columns.get('y');
    expect(values(state, 'y')).toEqual([1, 2.25]);
    expect(y?.dimension).toEqual(FORCE);
    expect(Array.from(typeof y?.u === 'object' ? y.u : [])).toEqual([
      expect.closeTo((2 * 2 * 0.1) / 4, 12),
      expect.closeTo((2 * 3 * 0.1) / 4, 12),
    ]);
  });

  it('keeps its uncertainty when the caller goes on to other quantities', () => {
    const bench: Bench = {
      quantities: { W: { value: 4, dimension: FORCE } },
      instruments: {
        cell: { kind: 'sampled', shape: { dimension: FORCE }, settings: { rate: 1, noise: 0.1 } },
      },
      steps: [{ readings: { of: 'cell', gives: ['t', 'F'] } }, { column: { of: 'F*(F/W)', gives: 'y' } }],
    };
    const quantities = quantityVector(bench);
    const { state } = runOn(bench, {
      cell: { t: { values: [0], dimension: TIME }, value: { values: [2], dimension: FORCE } },
    });
    quantities[0] = 99;
    expect(Array.from(Object(state.columns.get('y')?.u))).toEqual([expect.closeTo(0.1, 12)]);
  });
});

describe('keep', () => {
  const times = every(10, 1);

  it('keeps the rows where a condition is true, of all columns of the same rows', () => {
    const { state } = onCell([{ keep: { while: 't > 2.5 s and F < 8 N' } }], (t) => t, times);
    expect(values(state, 't')).toEqual([3, 4, 5, 6, 7]);
    expect(values(state, 'F')).toEqual([3, 4, 5, 6, 7]);
  });

  it('keeps from one event up to another', () => {
    const swing = (t: number) => Math.sin(t);
    const { state } = onCell([{ keep: { from: 'F > 0.9 N', to: 'F < 0 N' } }], swing, times);
    expect(values(state, 't')).toEqual([2, 3]);
    const { state: open } = onCell([{ keep: { to: 'F < 0 N' } }], swing, times);
    expect(values(open, 't')).toEqual([0, 1, 2, 3]);
  });

  it('that leaves nothing says how many there were, and the window', () => {
    const { outcome } = onCell([{ keep: { while: 't > 99 s' } }], (t) => t, times);
    expect(sentencesOf(outcome)).toEqual([
      'reduction, keep t > 99 s, run 1  no reading of "readings" of cell is in the window t > 99 s; there were 10.',
    ]);
  });
});

describe('zero', () => {
  it('takes the mean of the quiet rows off the whole column', () => {
    const { state } = onCell(
      [{ zero: { column: 'F', while: 't < 3 s' } }],
      (t) => (t < 3 ? 0.4 : 5.4),
      every(6, 1),
    );
    expect(values(state, 'F')).toEqual([0, 0, 0, 5, 5, 5].map((each) => expect.closeTo(each, 14)));
  });
});

describe('mean', () => {
  it('has the standard error s/√n with n − 1 degrees of freedom (JCGM 100, 4.2)', () => {
    const { state } = onCell([{ mean: { of: 'F', gives: 'm' } }], (t) => [3, 5, 4, 8][t], every(4, 1));
    const m = scalar(state, 'm');
    expect(m.value).toBe(5);
    expect(m.standardUncertainty).toBeCloseTo(Math.sqrt(14 / 3 / 4), 12);
    expect(m.degreesOfFreedom).toBeCloseTo(3, 12);
  });

  it('counts only the rows that a condition names', () => {
    const { state } = onCell([{ mean: { of: 'F', while: 't >= 2 s', gives: 'm' } }], (t) => t, every(5, 1));
    expect(scalar(state, 'm').value).toBe(3);
  });

  it('of readings that all round to the same has the rounding for its uncertainty', () => {
    const { state } = onCell([{ mean: { of: 'F', gives: 'm' } }], () => 1.2, every(50, 1), {
      resolution: 0.1,
    });
    expect(scalar(state, 'm').standardUncertainty).toBeCloseTo(0.1 / Math.sqrt(12), 12);
  });

  it('of a single reading has its stated uncertainty', () => {
    const { state } = onCell([{ mean: { of: 'F', gives: 'm' } }], () => 1.2, [0], { noise: 0.3 });
    expect(scalar(state, 'm').standardUncertainty).toBeCloseTo(0.3, 12);
    expect(scalar(state, 'm').degreesOfFreedom).toBe(Infinity);
  });

  it('of readings that drift is told to be so, with a larger uncertainty', () => {
    const random = randomSource(4);
    const noise = every(60, 1).map(() => 0.1 * random.normal());
    const still = onCell([{ mean: { of: 'F', gives: 'm' } }], (t) => noise[t], every(60, 1));
    const drifts = onCell([{ mean: { of: 'F', gives: 'm' } }], (t) => noise[t] + 0.02 * t, every(60, 1));
    expect(still.state.notes).toEqual([]);
    expect(drifts.state.notes.map((note) => note.code)).toEqual(['residuals-bend']);
    const plain = Math.sqrt((0.02 ** 2 * 60 ** 2) / 12 / 60);
    expect(scalar(drifts.state, 'm').standardUncertainty).toBeGreaterThan(2 * plain);
  });
});

describe('line', () => {
  const x = every(6, 1);
  const y = [1.1, 2.9, 5.2, 6.8, 9.1, 11.2];

  it('gives slope, intercept and their uncertainties from scatter (textbook formulas)', () => {
    const { state } = onCell(
      [{ line: { of: 'F', against: 't', slope: 'b', intercept: 'a' } }],
      (t) => y[t],
      x,
    );
    const mean = { x: 2.5, y: y.reduce((sum, each) => sum + each, 0) / 6 };
    const sxx = 17.5;
    const slope = x.reduce((sum, each, i) => sum + (each - mean.x) * (y[i] - mean.y), 0) / sxx;
    const intercept = mean.y - slope * mean.x;
    const variance = x.reduce((sum, each, i) => sum + (y[i] - intercept - slope * each) ** 2, 0) / 4;
    expect(scalar(state, 'b').value).toBeCloseTo(slope, 12);
    expect(scalar(state, 'a').value).toBeCloseTo(intercept, 12);
    expect(scalar(state, 'b').standardUncertainty).toBeCloseTo(Math.sqrt(variance / sxx), 12);
    expect(scalar(state, 'a').standardUncertainty).toBeCloseTo(
      Math.sqrt(variance * (1 / 6 + mean.x ** 2 / sxx)),
      12,
    );
    expect(scalar(state, 'b').degreesOfFreedom).toBeCloseTo(4, 10);
    expect(state.fits[0].covariance[1]).toBeCloseTo((-variance * mean.x) / sxx, 12);
    expect(state.fits[0].uncertaintyFrom).toBe('scatter');
    expect(state.fits[0].reducedChiSquare).toBeNull();
    expect(state.fits[0].residuals[2]).toBeCloseTo(y[2] - intercept - 2 * slope, 12);
  });

  it('weighted by stated uncertainties is not scaled, and says so where the scatter is improbable', () => {
    const steps = [{ line: { of: 'F', against: 't', slope: 'b', weights: 'stated' } }];
    const { state } = onCell(steps, (t) => y[t], x, { noise: 0.01 });
    expect(scalar(state, 'b').standardUncertainty).toBeCloseTo(0.01 / Math.sqrt(17.5), 12);
    expect(state.notes.map((note) => note.code)).toEqual(['scatter-above-stated']);
    expect(state.notes[0].message).toMatch(
      /^reduced chi-square is \d+ with 4 degrees of freedom \(chance below 0\.0001\)/,
    );
    expect(state.fits[0].statement).toContain('not scaled by reduced chi-square');
    const { state: calm } = onCell(steps, (t) => y[t], x, { noise: 0.15 });
    expect(calm.notes).toEqual([]);
    const { state: tooCalm } = onCell(steps, (t) => y[t], x, { noise: 3 });
    expect(tooCalm.notes.map((note) => note.code)).toEqual(['scatter-below-stated']);
  });

  it('asked to weight where nothing is stated says what to state', () => {
    const { outcome } = onCell(
      [{ line: { of: 'F', against: 't', slope: 'b', weights: 'stated' } }],
      (t) => y[t],
      x,
    );
    expect(sentencesOf(outcome)[0]).toContain(
      '"weights: stated" needs an uncertainty of each reading, and for F none is stated',
    );
  });

  it('through readings that bend says so', () => {
    const random = randomSource(8);
    const { state } = onCell(
      [{ line: { of: 'F', against: 't', slope: 'b' } }],
      (t) => t + 0.05 * t * t + 0.01 * random.normal(),
      every(40, 0.1),
    );
    expect(state.notes.map((note) => note.code)).toEqual(['residuals-bend']);
  });

  it('with a value that is not finite names the column and the row', () => {
    const { outcome } = onCell([{ line: { of: 'F/t', against: 't', slope: 'b' } }], () => 1, every(5, 1));
    expect(sentencesOf(outcome)[0]).toContain('F/t is Infinity in row 1; a finite number would be right.');
  });
});

describe('value', () => {
  it('of slope and intercept of one line takes account of their covariance', () => {
    const { state } = onCell(
      [
        { line: { of: 'F', against: 't', slope: 'b', intercept: 'a' } },
        { value: { of: 'a + b*t_0', gives: 'F_0' } },
      ],
      (t) => [1.1, 2.9, 5.2, 6.8, 9.1, 11.2][t],
      every(6, 1),
      {},
      { t_0: { value: 2.5, dimension: TIME } },
    );
    // At the mean of the abscissas the line's uncertainty is s/√n.
    const s = Math.sqrt(state.fits[0].residuals.reduce((sum, each) => sum + each * each, 0) / 4);
    expect(scalar(state, 'F_0').standardUncertainty).toBeCloseTo(s / Math.sqrt(6), 12);
    expect(scalar(state, 'F_0').degreesOfFreedom).toBeCloseTo(4, 9);
    expect(scalar(state, 'F_0').dimension).toEqual(FORCE);
  });
});

describe('period', () => {
  const steps = (more: Record<string, unknown> = {}) => [
    { period: { of: 'F', against: 't', gives: 'T', ...more } },
  ];

  it('of a sine is found to 1e-7 from 30 readings a swing, whatever its mean (closed form)', () => {
    for (const mean of [0, 7, -0.4]) {
      const { state } = onCell(
        steps(),
        (t) => mean + Math.cos((2 * Math.PI * t) / 1.7),
        every(400, 1.7 / 30.3),
      );
      expect(Math.abs(scalar(state, 'T').value / 1.7 - 1)).toBeLessThan(1e-7);
    }
  });

  it('is the same whatever the level, though the two directions are then uneven', () => {
    const { state } = onCell(
      steps({ level: '0.5 N' }),
      (t) => Math.cos((2 * Math.PI * t) / 1.7),
      every(400, 0.02),
    );
    expect(Math.abs(scalar(state, 'T').value / 1.7 - 1)).toBeLessThan(1e-6);
  });

  it('of a dying swing is found to the last tenth of its first amplitude', () => {
    const { state } = onCell(
      steps(),
      (t) => Math.exp(-t / 6) * Math.cos((2 * Math.PI * t) / 1.7),
      every(700, 0.02),
    );
    expect(state.fits[0].x.values.length).toBeGreaterThanOrEqual(15);
    expect(Math.abs(scalar(state, 'T').value / 1.7 - 1)).toBeLessThan(1e-4);
  });

  it('of the first swings differs where the swing quickens', () => {
    const quickens = (t: number) => Math.cos(2 * Math.PI * (t + 0.01 * t * t));
    const all = scalar(onCell(steps(), quickens, every(1000, 0.01)).state, 'T').value;
    const first = scalar(onCell(steps({ first: 2 }), quickens, every(1000, 0.01)).state, 'T').value;
    const exactly = scalar(onCell(steps({ swings: 2 }), quickens, every(1000, 0.01)).state, 'T').value;
    expect(first).toBe(exactly);
    expect(first).toBeGreaterThan(all + 0.05);
  });

  it('with too few swings says how many there are', () => {
    const { outcome } = onCell(steps({ swings: 4 }), (t) => Math.cos(2 * Math.PI * t), every(90, 0.02));
    expect(sentencesOf(outcome)).toEqual([
      'reduction, period of F, run 1  1 whole swing is in the readings; 4 are asked for. Record for longer.',
    ]);
    const { outcome: still } = onCell(steps(), () => 3, every(50, 0.02));
    expect(sentencesOf(still)[0]).toContain('no whole swings are in the readings; one is needed');
  });

  it('counts each passage once however noisy it is', () => {
    const random = randomSource(3);
    const { state } = onCell(
      steps(),
      (t) => Math.sin(2 * Math.PI * t) + 0.08 * random.normal(),
      every(2000, 0.002).map((t) => t + 0.1),
    );
    expect(state.fits[0].x.values.length).toBe(8);
    expect(scalar(state, 'T').value).toBeCloseTo(1, 2);
  });
});

describe('peak', () => {
  it('is the largest reading, or the top of the parabola through three of them (closed form)', () => {
    const hill = (t: number) => 5 - 3 * (t - 0.37) ** 2;
    const { state } = onCell(
      [
        { peak: { of: 'F', gives: 'largest' } },
        { peak: { of: 'F', gives: 'top', by: 'parabola', against: 't' } },
      ],
      hill,
      [0, 0.1, 0.25, 0.45, 0.5, 0.8],
    );
    expect(scalar(state, 'largest').value).toBe(hill(0.45));
    expect(scalar(state, 'top').value).toBeCloseTo(5, 12);
  });

  it('among readings alike within their noise is told to be too high', () => {
    const { state } = onCell([{ peak: { of: 'F', gives: 'p' } }], (t) => 1 + 1e-3 * t, every(4, 1), {
      noise: 0.1,
    });
    expect(state.notes.map((note) => note.code)).toEqual(['peak-among-noise']);
    expect(scalar(state, 'p').standardUncertainty).toBeCloseTo(0.1, 12);
  });

  it('where a signal breaks off is the largest reading even by parabola', () => {
    const { state } = onCell([{ peak: { of: 'F', gives: 'p', by: 'parabola' } }], (t) => t * t, every(5, 1));
    expect(scalar(state, 'p').value).toBe(16);
    expect(state.notes.map((note) => note.code)).toEqual(['not-a-top']);
  });
});

describe('fit', () => {
  it('finds the symbols of a law with their dimensions, under other names where asked', () => {
    const { state, outcome } = onCell(
      [
        {
          fit: {
            of: 'F',
            as: 'A*exp(-t/tau) + c',
            free: { A: '1 N', tau: '1 s', c: 'W/2' },
            gives: { tau: 'tau_found' },
          },
        },
        { value: { of: '1/tau_found', gives: 'rate' } },
      ],
      (t) => 2 * Math.exp(-t / 0.7) + 0.5,
      every(40, 0.05),
      {},
      { W: { value: 1.5, dimension: FORCE } },
    );
    expect(sentencesOf(outcome)).toEqual([]);
    expect(scalar(state, 'tau_found').value).toBeCloseTo(0.7, 9);
    expect(scalar(state, 'A').value).toBeCloseTo(2, 9);
    expect(scalar(state, 'rate').dimension).toEqual([0, 0, -1, 0, 0, 0, 0]);
  });
});

describe('motion from gates', () => {
  it('has the speed of the flag at the middle of the time it blocks (closed form)', () => {
    const settings = { at: Float64Array.of(0.2, 0.5, 0.9), flag: 0.04, clock: 1e-5 };
    const bench: Bench = {
      instruments: { track: { kind: 'gates', shape: { dimension: LENGTH }, settings } },
      steps: [
        { 'motion from gates': { of: 'track', gives: ['t', 'x', 'v'] } },
        { line: { of: 'v', against: 't', slope: 'a', weights: 'stated' } },
      ],
    };
    const rolls = (t: number) => 0.25 * t * t;
    const observed = kindNamed('gates').observe(
      {
        kind: 'motion',
        startS: 0,
        endS: 3,
        breaks: new Float64Array(0),
        dimension: LENGTH,
        valueAt: rolls,
        valueBefore: rolls,
      },
      new Map<string, number | Float64Array>(Object.entries(settings)),
      null,
    );
    if (!observed.ok) throw new Error('observed');
    const state = beginRun('run 1', new Map([['track', observed.value]]), { keepsReports: true });
    const outcome = prepared(bench).run(state, new Float64Array(0));
    expect(sentencesOf(outcome)).toEqual([]);
    expect(scalar(state, 'a').value).toBeCloseTo(0.5, 9);
    const v = state.columns.get('v');
    const u = Array.from(typeof v?.u === 'object' ? v.u : []);
    const blocked = 0.04 / (v?.values[0] ?? 0);
    expect(u[0]).toBeCloseTo((((v?.values[0] ?? 0) / blocked) * 1e-5 * Math.SQRT2) / Math.sqrt(12), 9);
  });
});

describe('the registries', () => {
  it('describe every step and every setting in sentences', () => {
    for (const [name, step] of [...eachRunSteps, ...acrossRunsSteps]) {
      expect(step.name).toBe(name);
      expect(step.what).toMatch(/^[A-Z].*\.$/);
      for (const spec of step.settings) expect(spec.what).toMatch(/^[A-Z].*\.$/);
    }
    expect(ONE).toEqual([0, 0, 0, 0, 0, 0, 0]);
  });
});
