import { expect, it } from 'vitest';
import { reduceTrials } from '../../src/run/index.ts';
import { must, openShipped } from '../labs/shipped-lab.ts';

it('the fits across runs are kept with their data: T² against the load of the spring, one reading a run', async () => {
  const { pipeline, trials } = await openShipped('heavy-spring');
  const { acrossFits, runs, outputs } = must(reduceTrials(pipeline, trials));
  const [line] = acrossFits;
  expect(line?.y.values).toHaveLength(runs.length);
  const [s, c] = ['s', 'c'].map(
    (name) => line?.parameters.find((one) => one.name === name)?.value ?? Number.NaN,
  );
  const resultOf = (name: string) => outputs.find(({ output }) => output.result.name === name)?.value;
  expect(resultOf('s')).toBe(s);
  expect(resultOf('m_0')).toBeCloseTo(c / s, 12);
});
