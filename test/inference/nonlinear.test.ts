import { describe, expect, it } from 'vitest';
import { differenceDerivatives, fitNonlinear, prepareResiduals } from '../../src/inference/index.ts';
// NIST/ITL Statistical Reference Datasets: certified to 11 digits; two starts each, the first far.
import published from '../published/nist-nonlinear.json' with { type: 'json' };
import { expectDigits, modelOf, treeOf, valueFrom } from './support.ts';

interface ReferenceSet {
  readonly name: string;
  readonly model: string;
  readonly logOfResponse?: boolean;
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly number[];
  readonly certifiedSd: readonly number[];
  readonly sumOfSquares: number;
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
  readonly columns: { readonly y: readonly number[]; readonly [name: string]: readonly number[] };
}

const sets: readonly ReferenceSet[] = Object.values(published);

function fitSet(set: ReferenceSet, start: readonly number[]) {
  const parameters = set.certified.map((_, j) => `b${j + 1}`);
  const { y, ...predictors } = set.columns;
  const data = new Map(Object.entries(predictors).map(([name, values]) => [name, Float64Array.from(values)]));
  const precise = prepareResiduals({
    reading: treeOf(set.logOfResponse ? 'ln(y)' : 'y'),
    model: treeOf(set.model),
    parameters,
    columns: new Map(Object.entries(set.columns)),
  });
  return valueFrom(
    fitNonlinear({
      y: set.logOfResponse ? y.map(Math.log) : y,
      evaluate: modelOf(set.model, parameters, data),
      start,
      names: parameters,
      preciseResiduals: precise ?? undefined,
    }),
  );
}

describe('nonlinear least squares agrees with the certified values', () => {
  it('all 27 published problems are here', () => {
    expect(sets).toHaveLength(27);
  });

  describe.each(sets.map((set) => [set.name, set] as const))('%s', (_name, set) => {
    it.each([
      ['the first, far start', 0],
      ['the second start', 1],
    ])('from %s: 10 digits, deviations too', (_from, which) => {
      const fit = fitSet(set, set.starts[which]);
      expectDigits(fit.parameters, set.certified, 10);
      expectDigits(fit.standardUncertainties, set.certifiedSd, 10);
      expectDigits([fit.sumOfSquares, fit.residualSd], [set.sumOfSquares, set.residualSd], 10);
      expect(fit.degreesOfFreedom).toBe(set.degreesOfFreedom);
    });
  });
});

describe('a model without derivatives', () => {
  it('is fitted as well by differences, to their accuracy', () => {
    const set = published.Misra1a;
    const x = set.columns.x;
    const fit = valueFrom(
      fitNonlinear({
        y: set.columns.y,
        start: set.starts[0],
        evaluate: differenceDerivatives(
          (p, values) => {
            for (let i = 0; i < x.length; i += 1) values[i] = p[0] * -Math.expm1(-p[1] * x[i]);
          },
          [100, 1e-4],
        ),
      }),
    );
    expectDigits(fit.parameters, set.certified, 8);
    expectDigits(fit.standardUncertainties, set.certifiedSd, 8);
  });

  it('takes one side where the other leaves the domain', () => {
    const column = new Float64Array(1);
    const root = differenceDerivatives(
      (p, values) => {
        values[0] = Math.sqrt(p[0]);
      },
      [1],
    );
    root(Float64Array.of(1e-7), new Float64Array(1), [column]);
    // (√(1e-7 + 6e-6) − √1e-7)/6e-6, by hand.
    expectDigits(column, [(Math.sqrt(6.1e-6) - Math.sqrt(1e-7)) / 6e-6], 9);
  });
});
