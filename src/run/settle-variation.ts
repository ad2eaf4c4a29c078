import type { Pipeline } from '../lab/index.ts';
import type { RunGroup } from './groups.ts';
import { allEffects, type RunScalars, simulateGroup, valuesOfGroup, valuesOfNodes } from './outputs.ts';
import { alikeRuns, type RunVariation, varyRuns } from './run-variation.ts';

/** A mean over runs that lies within this share of their standard deviation from the run as given is that run. */
const NEGLIGIBLE = 0.02;

/**
 * The examples over which runs must be averaged so that their mean is known: a single one, the run as given, where
 * what differs from run to run moves the results up and down alike, as it does where they answer in step with it.
 *
 * The full and the ideal model are tried at the author's values, every group by itself.
 */
export function settleVariation(pipeline: Pipeline, groups: readonly RunGroup[]): RunVariation {
  const { lab } = pipeline;
  const varied = varyRuns(lab);
  if (varied.nodes.length === 1) return varied;
  const names = lab.results.filter(({ scope }) => scope === 'run').map(({ name }) => name);
  for (const subset of [allEffects(lab), 0]) {
    for (const [index, group] of groups.entries()) {
      const values = valuesOfGroup(pipeline, pipeline.nominal, group, subset);
      const nodes = valuesOfNodes(pipeline, pipeline.nominal, group, subset, varied);
      if (nodes.length === 1) continue;
      const centre = simulateGroup(pipeline, group, index, values, values);
      const runs = nodes.map((own) => simulateGroup(pipeline, group, index, own, values));
      const done = runs.flatMap((run) => (run.ok ? [run.value] : []));
      if (!centre.ok || done.length < runs.length) return varied;
      if (names.some((name) => movesMean(name, centre.value, done))) return varied;
    }
  }
  return alikeRuns(lab);
}

function movesMean(name: string, centre: RunScalars, runs: readonly RunScalars[]): boolean {
  const resultOf = ({ scalars }: RunScalars) => scalars.get(name)?.value ?? Number.NaN;
  const values = runs.map(resultOf);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
  // Rounding of the evolution moves every mean a little, also of results that no run-to-run difference reaches.
  const rounding = 1e-9 * Math.abs(mean);
  return !(Math.abs(mean - resultOf(centre)) <= NEGLIGIBLE * spread + rounding);
}
