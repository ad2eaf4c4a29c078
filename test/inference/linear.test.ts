import { describe, expect, it } from 'vitest';
import {
  evaluateExtended,
  extendDecimals,
  fitLine,
  fitLinear,
  fitPolynomial,
  meanOf,
} from '../../src/inference/index.ts';
// NIST/ITL Statistical Reference Datasets: certified to 15 digits.
import published from '../published/nist-linear.json' with { type: 'json' };
import { expectDigits, treeOf, valueFrom } from './support.ts';

const polynomials = [
  published.Norris,
  published.Pontius,
  published.Filip,
  published.Wampler1,
  published.Wampler2,
  published.Wampler3,
  published.Wampler4,
  published.Wampler5,
];

describe('linear least squares agrees with the certified values', () => {
  it.each(polynomials.map((set) => [set.name, set] as const))(
    '%s: 13 digits, deviations too',
    (_name, set) => {
      const fit = valueFrom(fitPolynomial(set.columns.x, set.columns.y, set.powers.length - 1));
      expectDigits(fit.parameters, set.certified, 13);
      expectDigits(fit.standardUncertainties, set.certifiedSd, 13);
      expectDigits([fit.residualSd], [set.residualSd], 13);
      expect(fit.uncertaintyFrom).toBe('scatter');
    },
  );

  it('Longley, seven entangled columns: 14 digits', () => {
    const { y, ...rest } = published.Longley.columns;
    const fit = valueFrom(fitLinear([y.map(() => 1), ...Object.values(rest)], y));
    expectDigits(fit.parameters, published.Longley.certified, 14);
    expectDigits(fit.standardUncertainties, published.Longley.certifiedSd, 14);
    expectDigits([fit.residualSd], [published.Longley.residualSd], 14);
  });

  it('NoInt2, a line through the origin: 14 digits', () => {
    const { x, y } = published.NoInt2.columns;
    const fit = valueFrom(fitLine(x, y, { throughOrigin: true }));
    expectDigits(fit.parameters, published.NoInt2.certified, 14);
    expectDigits(fit.standardUncertainties, published.NoInt2.certifiedSd, 14);
  });

  it('Filip from columns that are given as expressions: 13 digits', () => {
    const { x, y } = published.Filip.columns;
    const data = new Map([['x', x]]);
    const columns = published.Filip.powers.map((power) =>
      evaluateExtended(treeOf(`x^${power}`), data, x.length),
    );
    const known = columns.filter((column) => column !== null);
    expect(known).toHaveLength(11);
    const fit = valueFrom(fitLinear(known, extendDecimals(y)));
    expectDigits(fit.parameters, published.Filip.certified, 13);
    expectDigits(fit.standardUncertainties, published.Filip.certifiedSd, 13);
  });

  it('says of Filip that its powers are hardly told apart, and of Norris nothing', () => {
    const filip = valueFrom(fitPolynomial(published.Filip.columns.x, published.Filip.columns.y, 10));
    expect(filip.warnings.map((found) => found.code)).toEqual(['ill-conditioned']);
    expect(filip.warnings[0].message).toMatch(/x\^\d+ and the coefficient of x\^\d+ are hardly told apart/);
    expect(valueFrom(fitLine(published.Norris.columns.x, published.Norris.columns.y)).warnings).toEqual([]);
  });
});

describe('means', () => {
  // NumAcc3 and NumAcc4 by their published definition: the given value, then 500 times 0.1 below and above it.
  const around = (middle: string, low: string, high: string) => [
    Number(middle),
    ...Array.from({ length: 1000 }, (_, i) => Number(i % 2 === 0 ? low : high)),
  ];
  it.each([
    ['Lew', published.Lew.columns.y, published.Lew.mean, published.Lew.standardDeviation],
    ['NumAcc1', published.NumAcc1.columns.y, 10000002, 1],
    ['NumAcc2', published.NumAcc2.columns.y, 1.2, 0.1],
    ['NumAcc3', around('1000000.2', '1000000.1', '1000000.3'), 1000000.2, 0.1],
    ['NumAcc4', around('10000000.2', '10000000.1', '10000000.3'), 10000000.2, 0.1],
  ])('%s: mean and standard deviation to 14 digits', (_name, values, mean, standardDeviation) => {
    const found = valueFrom(meanOf(values));
    expectDigits([found.value, found.standardDeviation], [mean, standardDeviation], 14);
    expect(found.degreesOfFreedom).toBe(values.length - 1);
  });
});
