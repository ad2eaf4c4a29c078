import { expect, it } from 'vitest';
import { toText } from '../../../src/expression/index.ts';
import { idealRate } from '../../../src/publish/gather/index.ts';
import { openShipped } from '../../labs/shipped-lab.ts';

it('the ideal law of a relation is printed without what is switched off, roots of nothing included', async () => {
  const { pipeline } = await openShipped('loud-tube');
  const { model } = pipeline.lab;
  if (model.kind !== 'relation') throw new Error('the tube has lost its relation');
  expect(toText(idealRate(pipeline, model.relation.expression.tree))).toBe('q*(sqrt(gamma*R_g*T_a/M_d)/f)/4');
});
