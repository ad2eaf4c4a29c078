import { describe, expect, it } from 'vitest';
import {
  type Correlation,
  chiSquareTail,
  coverageFactor,
  fQuantile,
  fTail,
  meansTogether,
  numericalTolerance,
  propagateCovariance,
  propagateLinear,
  propagateMonteCarlo,
  randomSource,
  validateLinear,
  weightedMeanOf,
  welchSatterthwaite,
} from '../../src/inference/index.ts';
import {
  combineUncertainties,
  type Estimate,
  exactly,
  withinLimits,
  withStandardUncertainty,
} from '../../src/quantity/index.ts';
// JCGM 100:2008 annex H and JCGM 101:2008 section 9: published figures from memory, recomputed.
import published from '../published/gum.json' with { type: 'json' };
import { expectDigits, valueFrom } from './support.ts';

describe('JCGM 100:2008, H.1: an end gauge', () => {
  const h1 = published['gum-h1-end-gauge'];
  const nm = 1e-9;
  const difference = combineUncertainties(215 * nm, [
    withStandardUncertainty(0, (13 * nm) / Math.sqrt(5), 24),
    withStandardUncertainty(0, (10 * nm) / 2.57, 5),
    withStandardUncertainty(0, (20 * nm) / 3, 8),
  ]);
  const standard = withStandardUncertainty(0.050000623, 25 * nm, 18);
  const expansionDifference: Estimate = { ...withinLimits(0, 1e-6), degreesOfFreedom: 50 };
  const temperatureDifference: Estimate = { ...withinLimits(0, 0.05), degreesOfFreedom: 2 };
  const expansion = withinLimits(11.5e-6, 2e-6);
  const temperature = withStandardUncertainty(-0.1, Math.hypot(0.2, 0.5 / Math.SQRT2));
  const estimates = [
    standard,
    difference,
    expansion,
    temperature,
    expansionDifference,
    temperatureDifference,
  ];
  const gradient = [1, 1, 0, 0, -0.050000623 * -0.1, -0.050000623 * 11.5e-6];
  const result = propagateLinear({ gradient, estimates });

  it('each contribution, as printed: 25, 9.7, 2.9 and 16.6 nm', () => {
    const printed = result.budget.map(({ uncertainty }) => Number((uncertainty / nm).toFixed(1)));
    expect(printed).toEqual([25, 9.7, 0, 0, 2.9, 16.6]);
    expect(result.budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 14);
  });

  it('combined 32 nm with 16.7 effective degrees of freedom', () => {
    expect(Math.round(result.standardUncertainty / nm)).toBe(32);
    expectDigits([result.standardUncertainty / nm], [h1.recomputed.uc_nm], 4);
    expect(result.degreesOfFreedom.toFixed(1)).toBe('16.7');
  });

  it('coverage factor 2.92 at 99 % for 16 degrees of freedom, expanded 93 nm', () => {
    const factor = coverageFactor(Math.floor(result.degreesOfFreedom), 0.99);
    expect(factor.toFixed(2)).toBe('2.92');
    expectDigits([factor], [h1.recomputed.k99_16], 10);
    expect(Math.round(factor * 32)).toBe(93);
  });
});

describe('JCGM 100:2008, H.2: resistance and reactance read together', () => {
  const h2 = published['gum-h2-impedance'];
  const together = valueFrom(
    meansTogether([h2.data.V_volt, h2.data.I_milliampere.map((mA) => mA / 1000), h2.data.phi_rad]),
  );
  const [V, I, phi] = together.means;
  const u = [0, 1, 2].map((i) => Math.sqrt(together.covariance[4 * i]));
  const r = (i: number, j: number) => together.covariance[3 * i + j] / (u[i] * u[j]);
  const [cosine, sine] = [Math.cos(phi), Math.sin(phi)];
  const jacobian = Float64Array.of(
    cosine / I,
    (-V * cosine) / I ** 2,
    (-V * sine) / I,
    sine / I,
    (-V * sine) / I ** 2,
    (V * cosine) / I,
    1 / I,
    -V / I ** 2,
    0,
  );
  const covariance = propagateCovariance(jacobian, together.covariance, 3, 3);
  const uOut = [0, 1, 2].map((i) => Math.sqrt(covariance[4 * i]));
  const rOut = (i: number, j: number) => covariance[3 * i + j] / (uOut[i] * uOut[j]);

  it('means, their uncertainties and correlations, as printed', () => {
    expect([V.toFixed(3), (I * 1000).toFixed(3), phi.toFixed(5)]).toEqual(['4.999', '19.661', '1.04446']);
    expect([u[0].toFixed(4), (u[1] * 1000).toFixed(4), u[2].toFixed(5)]).toEqual([
      '0.0032',
      '0.0095',
      '0.00075',
    ]);
    expect([r(0, 1), r(0, 2), r(1, 2)].map((value) => value.toFixed(2))).toEqual(['-0.36', '0.86', '-0.65']);
  });

  it('127.732(71) Ω, 219.847(295) Ω, 254.260(236) Ω and the correlations, as printed', () => {
    expect([((V / I) * cosine).toFixed(3), ((V / I) * sine).toFixed(3), (V / I).toFixed(3)]).toEqual([
      '127.732',
      '219.847',
      '254.260',
    ]);
    expect(uOut[0].toFixed(3)).toBe('0.071');
    // Printed 0.295, which is cut rather than rounded: 0.2956.
    expectDigits(
      uOut,
      [h2.recomputed.approach1.uR, h2.recomputed.approach1.uX, h2.recomputed.approach1.uZ],
      12,
    );
    expect([rOut(0, 1).toFixed(3), rOut(0, 2).toFixed(3), rOut(1, 2).toFixed(3)]).toEqual([
      '-0.588',
      '-0.485',
      '0.993',
    ]);
  });

  it('the law of propagation with correlations gives the same, and 4 degrees of freedom', () => {
    const estimates = [V, I, phi].map((value, i) => withStandardUncertainty(value, u[i], 4));
    const correlations: Correlation[] = [
      { between: [0, 1], is: r(0, 1) },
      { between: [0, 2], is: r(0, 2) },
      { between: [1, 2], is: r(1, 2) },
    ];
    const result = propagateLinear({ gradient: jacobian.slice(0, 3), estimates, correlations });
    expectDigits([result.standardUncertainty], [h2.recomputed.approach1.uR], 12);
    expect(result.degreesOfFreedom).toBeCloseTo(4, 12);
    expect(result.budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });
});

describe('JCGM 100:2008, H.5: an analysis of variance', () => {
  const h5 = published['gum-h5-anova'];
  const { J, K, dayMeanMinus10V_microvolt: means, daySd_microvolt: deviations } = h5.data;
  const days = valueFrom(meansTogether([means]));
  const within = deviations.reduce((sum, s) => sum + s * s, 0) / J;
  const between = days.covariance[0] * J * K;

  it('F = 2.26 against 2.12 at 95 % and 2.45 at 97.5 %', () => {
    expectDigits([between / within], [h5.recomputed.F], 12);
    expect(fQuantile(0.95, J - 1, J * (K - 1)).toFixed(2)).toBe('2.12');
    expect(fQuantile(0.975, J - 1, J * (K - 1)).toFixed(2)).toBe('2.45');
    expectDigits([fTail(between / within, J - 1, J * (K - 1))], [h5.recomputed.p], 12);
  });

  it('the mean is 10.000 097 V with 18 µV and 9 degrees of freedom', () => {
    expect((10 + days.means[0] * 1e-6).toFixed(6)).toBe('10.000097');
    expect(Math.sqrt(days.covariance[0]).toFixed(0)).toBe('18');
    expect(days.degreesOfFreedom).toBe(9);
  });
});

describe('JCGM 101:2008, 9.2: a sum of four', () => {
  const sum = (inputs: Float64Array, outputs: Float64Array) => {
    outputs[0] = inputs[0] + inputs[1] + inputs[2] + inputs[3];
  };
  const rectangular = (deviation: number) => withinLimits(0, deviation * Math.sqrt(3));
  const cases = [
    ['normal', [1, 1, 1, 1].map((deviation) => withStandardUncertainty(0, deviation)), 0],
    ['rectangular', [1, 1, 1, 1].map(rectangular), 1],
    ['one rectangular ten times wider', [1, 1, 1, 10].map(rectangular), 2],
  ] as const;

  it.each(cases)(
    '%s: the exact interval within four times its own numerical uncertainty',
    (_name, estimates, which) => {
      const expected = published['jcgm101-additive'].cases[which].recomputed;
      const result = valueFrom(
        propagateMonteCarlo({ evaluate: sum, estimates, random: randomSource(1), draws: 200_000 }),
      );
      const [output] = result.outputs;
      const [low, high] = expected.interval95;
      expect(Math.abs(output.mean)).toBeLessThan(4 * output.numerical.mean);
      expect(Math.abs(output.standardUncertainty - expected.u)).toBeLessThan(
        4 * output.numerical.standardUncertainty,
      );
      expect(Math.abs(output.symmetric.low - low)).toBeLessThan(4 * output.numerical.low);
      expect(Math.abs(output.symmetric.high - high)).toBeLessThan(4 * output.numerical.high);
    },
  );
});

describe('JCGM 101:2008, 9.3: calibration of a mass', () => {
  const estimates = [
    withStandardUncertainty(100_000, 0.05),
    withStandardUncertainty(1.234, 0.02),
    withinLimits(1.2, 0.1),
    withinLimits(8000, 1000),
    withinLimits(8000, 50),
    exactly(1.2),
    exactly(100_000),
  ];
  const mass = ([mRc, dmRc, rhoA, rhoW, rhoR, rhoA0, mNom]: Float64Array) =>
    (mRc + dmRc) * (1 + (rhoA - rhoA0) * (1 / rhoW - 1 / rhoR)) - mNom;

  it('first order: 1.2340 mg with 0.0539 mg, 1.1285 to 1.3395', () => {
    const result = propagateLinear({ gradient: [1, 1, 0, 0, 0, 0, -1], estimates });
    expect(result.standardUncertainty.toFixed(4)).toBe('0.0539');
    const half = coverageFactor(result.degreesOfFreedom, 0.95) * result.standardUncertainty;
    expect([(1.234 - half).toFixed(4), (1.234 + half).toFixed(4)]).toEqual(['1.1285', '1.3395']);
  });

  const run = (seed: number, digits: number) =>
    valueFrom(
      propagateMonteCarlo({
        evaluate: (inputs, outputs) => {
          outputs[0] = mass(inputs);
        },
        estimates,
        random: randomSource(seed),
        digits,
      }),
    );

  it('adaptive draws to two digits: 1.2341 mg, 0.0754 mg, the shortest interval 1.0834 to 1.3825', () => {
    const result = run(2, 2);
    const [output] = result.outputs;
    const { exactMean, exactU, monteCarloSymmetric } = published['jcgm101-mass'].recomputed;
    const tolerance = numericalTolerance(exactU, 2);
    expect(result.stable).toBe(true);
    expect(Math.abs(output.mean - exactMean)).toBeLessThan(tolerance);
    expect(Math.abs(output.standardUncertainty - exactU)).toBeLessThan(tolerance);
    expect(Math.abs(output.symmetric.low - monteCarloSymmetric.low.value)).toBeLessThan(tolerance);
    expect(Math.abs(output.symmetric.high - monteCarloSymmetric.high.value)).toBeLessThan(tolerance);
    // The shortest interval slides easily, and the printed ends are those of one run; its length is sure.
    expect(Math.abs(output.shortest.low - 1.0834)).toBeLessThan(0.003);
    expect(Math.abs(output.shortest.high - 1.3825)).toBeLessThan(0.003);
    expect((output.shortest.high - output.shortest.low).toFixed(3)).toBe((1.3825 - 1.0834).toFixed(3));
  });

  it('the same seed gives the same figures, another seed others', () => {
    expect(run(2, 1)).toEqual(run(2, 1));
    expect(run(3, 1).outputs[0].mean).not.toBe(run(2, 1).outputs[0].mean);
  });
});

describe('whether the linear answer stands, JCGM 101:2008, 8.1 and table 5', () => {
  const { published: printed } = published['jcgm101-mass'];
  const interval = ([low, high]: number[]) => ({ low, high });

  it('first order does not, to one digit: its ends are 0.045 and 0.043 mg off, 0.005 are allowed', () => {
    const found = validateLinear(1.234, 0.0539, Infinity, interval(printed.monteCarlo.interval), 0.95, 1);
    expect([found.lowDifference.toFixed(3), found.highDifference.toFixed(3)]).toEqual(['0.045', '0.043']);
    expect([found.tolerance, found.agrees]).toEqual([0.005, false]);
  });

  it('with the second-order terms it does: 0.004 and 0.002 mg', () => {
    const found = validateLinear(1.234, 0.075, Infinity, interval(printed.monteCarlo.interval), 0.95, 1);
    expect([found.lowDifference.toFixed(3), found.highDifference.toFixed(3)]).toEqual(['0.004', '0.002']);
    expect(found.agrees).toBe(true);
  });
});

describe('numerical tolerance, JCGM 101:2008, 7.9.2', () => {
  it.each([
    [0.00035, 2, 0.000005],
    [0.00035, 1, 0.00005],
    [2, 1, 0.5],
    [9.96, 2, 0.5],
    [0, 2, 0],
  ])('of u = %d to %d digits is %d', (u, digits, expected) => {
    expect(numericalTolerance(u, digits)).toBeCloseTo(expected, 15);
  });
});

describe('Welch and Satterthwaite', () => {
  it('two like components with ν each have 2ν', () => {
    const part = { standardUncertainty: 1.3, degreesOfFreedom: 7 };
    expect(welchSatterthwaite([part, part])).toBeCloseTo(14, 12);
  });
  it('what is known without doubt, or not uncertain at all, has infinitely many', () => {
    expect(welchSatterthwaite([{ standardUncertainty: 1, degreesOfFreedom: Infinity }])).toBe(Infinity);
    expect(welchSatterthwaite([])).toBe(Infinity);
  });
  it('fully correlated inputs add up linearly', () => {
    const estimates = [withStandardUncertainty(1, 0.3, 5), withStandardUncertainty(2, 0.4, 9)];
    const result = propagateLinear({
      gradient: [1, 1],
      estimates,
      correlations: [{ between: [0, 1], is: 1 }],
    });
    expect(result.standardUncertainty).toBeCloseTo(0.7, 14);
    expect(result.degreesOfFreedom).toBeCloseTo(5, 12);
  });
});

describe('the weighted mean', () => {
  // Handbook example: weights 1/u², closed form.
  it('of 10(1) and 12(2) is 10.4 with 0.894, chi-square 0.8', () => {
    const mean = valueFrom(weightedMeanOf([10, 12], [1, 2]));
    expectDigits([mean.value, mean.standardUncertainty, mean.chiSquare], [10.4, Math.sqrt(0.8), 0.8], 14);
    expect(mean.degreesOfFreedom).toBe(Infinity);
    expectDigits([chiSquareTail(mean.chiSquare, 1)], [0.37109336952269756], 12);
    const scaled = valueFrom(weightedMeanOf([10, 12], [1, 2], 'scatter'));
    expectDigits([scaled.standardUncertainty], [0.8], 14);
    expect(scaled.degreesOfFreedom).toBe(1);
  });
});
