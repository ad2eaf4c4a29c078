import { describe, expect, it } from 'vitest';
import { evaluateExtended, extendDecimals, prepareResiduals } from '../../src/inference/index.ts';
import { treeOf } from './support.ts';

/**
 * Values computed with 40 digits (mpmath), written as the nearest double and the rest.
 */
const VALUES: readonly (readonly [string, number, number, number])[] = [
  ['exp(x)', 0.7, 2.0137527074704766, -1.111538506282491e-16],
  ['exp(x)', -30.25, 7.287724095819692e-14, 2.3339070041631973e-30],
  ['ln(x)', 12.3, 2.5095992623783716, 2.021272054861932e-16],
  ['log10(x)', 0.02, -1.6989700043360187, -5.8314879359043e-17],
  ['sqrt(x)', 3, 1.7320508075688772, 1.0035084221806903e-16],
  ['cbrt(x)', -5.5, -1.7651741676630315, -2.186176211039952e-17],
  ['sin(x)', 1.1, 0.8912073600614353, 3.467556860212527e-17],
  ['sin(x)', 100.5, -0.030959966783271346, 8.320928549434447e-19],
  ['cos(x)', -3.3, -0.9874797699088649, -4.468066928317542e-18],
  ['tan(x)', 0.4, 0.4227932187381618, -1.8141983455333413e-17],
  ['asin(x)', 0.3, 0.3046926540153975, -1.583144043021605e-17],
  ['acos(x)', -0.85, 2.5867816206097216, 1.4010037617476383e-16],
  ['atan(x)', 7.5, 1.4382447944982226, -2.4930199102645656e-17],
  ['sinh(x)', 0.2, 0.201336002541094, -1.4566310573452516e-18],
  ['cosh(x)', 1.5, 2.352409615243247, 1.1621929620875948e-16],
  ['tanh(x)', -0.6, -0.5370495669980353, 1.3430443668731897e-17],
  ['x^2.5', 1.7, 3.768098990207131, -1.7002143082592974e-16],
  ['x^(-3)', 1.7, 0.2035416242621616, 9.739591361967076e-18],
  ['2*pi*x/3', 0.9, 1.8849555921538759, 7.347880794884119e-17],
  ['hypot(x, 1)', 0.3, 1.044030650891055, -4.959927741486448e-17],
  ['abs(x) - 1', -0.3, -0.7, -4.4408920985006264e-17],
  ['exp(-x)/(1.1 + 0.7*x)', 0.35, 0.5239316652183743, -8.853936346848654e-18],
];

describe('expressions to thirty digits', () => {
  it.each(VALUES)('%s at x = %d', (text, x, high, low) => {
    const column = evaluateExtended(treeOf(text), new Map([['x', [x]]]), 1);
    if (column === null) throw new Error('not computed');
    const difference = column.high[0] - high + (column.low[0] - low);
    expect(Math.abs(difference)).toBeLessThan(1e-29 * Math.max(Math.abs(high), 1));
  });

  it('a decimal is what was written, not the nearest double', () => {
    const third = extendDecimals([0.1, -2.5134, 1e-300, 123456789.125, 6.02214076e23]);
    expect(third.low[0]).toBe(-5.551115123125783e-18);
    expect(third.low[3]).toBe(0);
    expect(third.low[4]).toBe(0);
    // 0.1 + 0.2 − 0.3 of the decimals is nothing, of the doubles 5.6e-17.
    const sum = evaluateExtended(treeOf('x + 0.2 - 0.3'), new Map([['x', [0.1]]]), 1);
    expect(Math.abs(sum?.high[0] ?? 1)).toBeLessThan(1e-32);
  });

  it('what is not computed so is said to be so', () => {
    expect(evaluateExtended(treeOf('if(x > 1, x, 2)'), new Map([['x', [1]]]), 1)).toBeNull();
    expect(evaluateExtended(treeOf('x + y'), new Map([['x', [1]]]), 1)).toBeNull();
    expect(
      prepareResiduals({
        reading: treeOf('y'),
        model: treeOf('a*z'),
        parameters: ['a'],
        columns: new Map([['y', [1]]]),
      }),
    ).toBeNull();
  });
});
