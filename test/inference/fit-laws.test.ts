import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Evaluate,
  fitLine,
  fitLineInto,
  fitNonlinear,
  fitPolynomial,
  LINE,
  meanOf,
  randomSource,
  weightedMeanOf,
} from '../../src/inference/index.ts';
import { expectDigits, valueFrom } from './support.ts';

const seeds = fc.integer({ min: 0, max: 1e6 });
const shifts = fc.double({ min: -1e4, max: 1e4, noNaN: true });
const factors = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
const runs = { seed: 20260, numRuns: 100 };

/** Readings of a noisy cubic, with uneven uncertainties. */
function readings(seed: number, n = 15) {
  const random = randomSource(seed);
  const x = Float64Array.from({ length: n }, () => 4 * random.uniform() - 1);
  const uy = Float64Array.from({ length: n }, () => 0.05 + 0.2 * random.uniform());
  const y = x.map((value, i) => 1 + 2 * value - 0.3 * value ** 3 + uy[i] * random.normal());
  return { x, y, uy };
}

describe('laws that every fit obeys', () => {
  it('moving the origin of x moves the intercept and leaves slope, residuals and uncertainty of the slope', () => {
    fc.assert(
      fc.property(seeds, shifts, (seed, shift) => {
        const { x, y, uy } = readings(seed);
        const moved = x.map((value) => value + shift);
        const exact = moved.map((value) => value - shift);
        const here = valueFrom(fitLine(exact, y, { uy }));
        const there = valueFrom(fitLine(moved, y, { uy }));
        expectDigits(
          [there.parameters[1], there.standardUncertainties[1]],
          [here.parameters[1], here.standardUncertainties[1]],
          7,
        );
        const middle = there.parameters[0] + there.parameters[1] * shift;
        expect(Math.abs(middle - here.parameters[0])).toBeLessThan(1e-8);
        there.residuals.forEach((residual, i) => {
          expect(Math.abs(residual - here.residuals[i])).toBeLessThan(1e-8);
        });
      }),
      runs,
    );
  });

  it('a change of units changes parameters and uncertainties by their powers of it', () => {
    fc.assert(
      fc.property(seeds, factors, factors, (seed, perX, perY) => {
        const { x, y } = readings(seed);
        const plain = valueFrom(fitPolynomial(x, y, 3));
        const scaled = valueFrom(
          fitPolynomial(
            x.map((v) => v * perX),
            y.map((v) => v * perY),
            3,
          ),
        );
        const back = (values: Float64Array) => values.map((value, power) => (value / perY) * perX ** power);
        expectDigits(back(scaled.parameters), plain.parameters, 8);
        expectDigits(back(scaled.standardUncertainties), plain.standardUncertainties, 8);
      }),
      runs,
    );
  });

  it('the order of the readings does not matter', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { x, y, uy } = readings(seed);
        const there = valueFrom(fitLine(x, y, { uy, ux: 0.1 }));
        const back = valueFrom(
          fitLine(x.slice().reverse(), y.slice().reverse(), { uy: uy.slice().reverse(), ux: 0.1 }),
        );
        expectDigits(back.parameters, there.parameters, 10);
        expectDigits(back.covariance, there.covariance, 10);
        expectDigits([valueFrom(meanOf(y.slice().reverse())).value], [valueFrom(meanOf(y)).value], 14);
      }),
      runs,
    );
  });

  it('a reading taken twice counts as one of 1/√2 the uncertainty', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { x, y, uy } = readings(seed);
        const twice = valueFrom(fitLine([...x, ...x], [...y, ...y], { uy: [...uy, ...uy] }));
        const once = valueFrom(fitLine(x, y, { uy: uy.map((u) => u / Math.SQRT2) }));
        expectDigits(twice.parameters, once.parameters, 10);
        expectDigits(twice.covariance, once.covariance, 10);
        const mean = valueFrom(weightedMeanOf([...y, ...y], [...uy, ...uy]));
        expectDigits(
          [mean.standardUncertainty],
          [valueFrom(weightedMeanOf(y, uy)).standardUncertainty / Math.SQRT2],
          12,
        );
      }),
      runs,
    );
  });

  it('a nonlinear fit of a linear model is the linear fit', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { x, y, uy } = readings(seed);
        const parabola: Evaluate = (p, values, jacobian) => {
          for (let i = 0; i < x.length; i += 1) {
            values[i] = p[0] + p[1] * x[i] + p[2] * x[i] ** 2;
            if (jacobian) for (let j = 0; j < 3; j += 1) jacobian[j][i] = x[i] ** j;
          }
        };
        const nonlinear = valueFrom(fitNonlinear({ y, uy, evaluate: parabola, start: [50, -3, 1e3] }));
        const linear = valueFrom(fitPolynomial(x, y, 2, { uy }));
        expectDigits(nonlinear.parameters, linear.parameters, 9);
        expectDigits(nonlinear.covariance, linear.covariance, 9);
        expectDigits([nonlinear.reducedChiSquare ?? 0], [linear.reducedChiSquare ?? 1], 12);
      }),
      runs,
    );
  });
});

describe('the straight line without memory', () => {
  it('agrees with the careful one', () => {
    const out = new Float64Array(6);
    fc.assert(
      fc.property(seeds, shifts, (seed, shift) => {
        const { x, y } = readings(seed);
        const moved = x.map((value) => value + shift);
        fitLineInto(moved, y, y.length, out);
        const fit = valueFrom(fitLine(moved, y));
        expectDigits(
          [out[LINE.slope], out[LINE.slopeUncertainty]],
          [fit.parameters[1], fit.standardUncertainties[1]],
          9,
        );
        expectDigits(
          [out[LINE.interceptUncertainty], out[LINE.covariance]],
          [fit.standardUncertainties[0], fit.covariance[1]],
          9,
        );
        expect(Math.abs(out[LINE.intercept] - fit.parameters[0])).toBeLessThan(1e-11 * (1 + Math.abs(shift)));
        expectDigits([out[LINE.residualSd]], [fit.residualSd], 9);
      }),
      runs,
    );
  });

  it('gives NaN where there is no line', () => {
    const out = new Float64Array(6);
    fitLineInto(Float64Array.of(1, 1), Float64Array.of(2, 3), 2, out);
    expect([...out]).toEqual(new Array(6).fill(Number.NaN));
    fitLineInto(Float64Array.of(1, Number.NaN, 3), Float64Array.of(2, 3, 4), 3, out);
    expect(out[LINE.slope]).toBeNaN();
    fitLineInto(Float64Array.of(1, 2), Float64Array.of(2, 4), 2, out);
    expect([out[LINE.slope], out[LINE.slopeUncertainty]]).toEqual([2, Number.NaN]);
  });
});
