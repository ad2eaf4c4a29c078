import { describe, expect, it } from 'vitest';
import { fitNonlinear, prepareResiduals } from '../../src/inference/index.ts';
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
