import { describe, expect, it } from 'vitest';
import { toText } from '../../../src/expression/index.ts';
import { printedLaw } from '../../../src/publish/gather/index.ts';
import { openShipped, type SHIPPED } from '../../labs/shipped-lab.ts';

async function lawOf(name: (typeof SHIPPED)[number]): Promise<readonly string[]> {
  const { pipeline } = await openShipped(name);
  const printed = printedLaw(pipeline);
  if (printed === null) throw new Error(`${name} has lost its relation`);
  return [toText(printed.law), ...printed.parts.map((part) => `${part.name} = ${toText(part.is)}`)];
}

describe('the law of a relation is printed', () => {
  it('in the names of the author, with what they stand for: a number of quarters of a wavelength', async () => {
    expect(await lawOf('loud-tube')).toEqual([
      'q*lambda/4',
      'lambda = c_d/f',
      'c_d = sqrt(gamma*R_g*T_a/M_d)',
    ]);
  });

  it('without the unknown error of a meter, which is nought for all that the lab says', async () => {
    expect(await lawOf('tired-cells')).toEqual(['n*(E_1 - r_1*I_a)']);
  });

  it('without what is switched off, one fraction beside another', async () => {
    expect(await lawOf('thick-lens')).toEqual(['1/(1/F - 1/a)', 'F = R/(2*(n_0 - 1))']);
  });

  it('nowhere where the lab is a motion', async () => {
    const { pipeline } = await openShipped('tow-chain');
    expect(printedLaw(pipeline)).toBeNull();
  });
});
