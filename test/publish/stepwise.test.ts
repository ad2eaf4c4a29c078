import { describe, expect, it } from 'vitest';
import { classroomSteps } from '../../src/evolve/index.ts';
import { describeStepwise, runStepwise, type StepwiseModel } from '../../src/publish/stepwise/index.ts';
import { galleryLab } from './sample-lab.ts';

/** The model of a gallery lab, and where its own classroom stepper ends. */
function both(name: string, method: StepwiseModel['method'], stepS: number) {
  const pipeline = galleryLab(name);
  const { lab } = pipeline;
  if (lab.model.kind !== 'motion') throw new Error('no motion');
  const values = pipeline.values(pipeline.nominal);
  const described = describeStepwise(lab, values, { method, stepS });
  if (!described.ok) throw new Error(described.problems.map(({ message }) => message).join());
  const stepped = classroomSteps(lab.model.model, values, { stepper: method, stepS });
  if (!stepped.ok) throw new Error('not stepped');
  const motion = stepped.value;
  const end = new Float64Array(lab.model.model.stateNames.length);
  motion.stateAt(motion.endS, end);
  return { model: described.value, endS: motion.endS, end: [...end] };
}

describe('the model as it is written out for a class', () => {
  for (const name of ['tow-chain', 'falling-chain', 'draped-chain', 'long-swing'])
    for (const method of ['forward-euler', 'semi-implicit-euler'] as const)
      it(`ends where the classroom stepper ends: ${name}, ${method}`, () => {
        const { model, endS, end } = both(name, method, 0.01);
        const run = runStepwise(model, 100_000);
        expect(run.end?.t).toBeCloseTo(endS, 10);
        for (const [index, value] of (run.end?.states ?? []).entries())
          expect(Math.abs(value - (end[index] ?? Number.NaN))).toBeLessThan(1e-10);
      });

  it('keeps the names that the author gave to parts of a rate', () => {
    const { model } = both('tow-chain', 'forward-euler', 0.01);
    expect(model.terms.map(({ name }) => name)).toEqual(['brake', 'above', 'a']);
    expect(model.states.map(({ rate }) => rate.kind === 'name' && rate.name)).toEqual(['v', 'a']);
  });
});
