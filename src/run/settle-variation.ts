import type { Pipeline } from '../lab/index.ts';
import type { RunGroup } from './groups.ts';
import { allEffects, type RunScalars } from './outputs.ts';
import type { SimulateRuns } from './run-spread.ts';
import { alikeRuns, type RunVariation, varyRuns } from './run-variation.ts';
import { simulateMany } from './simulate-many.ts';

/** A mean over runs that lies within this share of their standard deviation from the run as given is that run. */
const NEGLIGIBLE = 0.02;

/**
 * The examples over which runs must be averaged so that their mean is known: a single one, the run as given, where
 * what differs from run to run moves the results up and down alike, as it does where they answer in step with it.
 *
 * The full and the ideal model are tried at the author's values, every group by itself.
 *
 * @param simulate the general way where left out
 */
export function settleVariation(
  pipeline: Pipeline,
  groups: readonly RunGroup[],
  simulate: SimulateRuns = (points, visit) => simulateMany(pipeline, groups, points, visit),
): RunVariation {
  const { lab } = pipeline;
  const varied = varyRuns(lab);
  if (varied.nodes.length === 1) return varied;
  const names = lab.results.filter(({ scope }) => scope === 'run').map(({ name }) => name);
  const [alike] = alikeRuns(lab).nodes;
  const base = pipeline.nominal;
  for (const subset of [allEffects(lab), 0]) {
    const points = [alike, ...varied.nodes].map((node) => ({ base, subset, variation: { nodes: [node] } }));
    const done: (readonly RunScalars[])[] = [];
    simulate(points, (index, outcome) => {
      if (outcome.ok) done[index] = outcome.value;
    });
    const [centre, ...runs] = done;
    if (centre === undefined || runs.filter((run) => run !== undefined).length < varied.nodes.length) {
      return varied;
    }
    for (const group of groups.keys()) {
      const ofGroup = runs.map((run) => run[group]);
      if (names.some((name) => movesMean(name, centre[group], ofGroup))) return varied;
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
