import { drawEstimates, randomSource } from '../../src/inference/index.ts';
import type { Pipeline, TrialRun } from '../../src/lab/index.ts';
import { readTrial } from '../../src/lab/trial/index.ts';
import { allEffects, drawRun, plannedGroups, valuesOfGroup } from '../../src/run/index.ts';
import { must } from '../labs/shipped-lab.ts';

/** A file that stands for those which the planted readings would have come from. */
const table = must(
  await readTrial(new TextEncoder().encode('t (s),x (m)\n0,1\n1,2\n'), { file: 'planted.csv' }),
);

/**
 * Trials as a school would take them whose apparatus has the given true values: every run of the plan, simulated
 * with the noise and the resolution of the instruments.
 *
 * @param truth true values of the base quantities, SI
 */
export function plantTrials(pipeline: Pipeline, truth: Float64Array, seed: number): readonly TrialRun[] {
  const { lab } = pipeline;
  const random = randomSource(seed);
  return plannedGroups(lab).flatMap((group, index) => {
    return Array.from({ length: lab.plan.repeats }, (_, repeat): TrialRun => {
      const source = random.fork(1000 * index + repeat);
      const values = valuesOfGroup(pipeline, drawRun(lab, truth, source.fork(-1)), group, allEffects(lab));
      const { readings } = must(pipeline.simulate(values, { random: source }));
      const name = `run ${repeat + 1} at ${group.label}`;
      return {
        entry: {
          name,
          file: 'planted.csv',
          run: undefined,
          when: group.when,
          reads: [],
          asRead: {},
          counts: null,
          setAside: null,
          place: {},
        },
        readings,
        outside: [],
        sha256: '',
        table,
      };
    });
  });
}

/** True values drawn within what the lab states of them. */
export function drawTruth(pipeline: Pipeline, seed: number): Float64Array {
  const { lab, nominal } = pipeline;
  const truth = Float64Array.from(nominal);
  const estimates = lab.quantities.base.map(({ estimate }) => estimate);
  drawEstimates(estimates, lab.correlations, randomSource(seed), truth);
  return truth;
}
