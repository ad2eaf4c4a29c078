import { randomSource } from '../inference/index.ts';
import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { fail, succeed } from '../problem/index.ts';
import type { RunGroup } from './groups.ts';
import { allEffects, valuesOfGroup } from './outputs.ts';
import { drawRun } from './run-variation.ts';

/** Rehearsed runs of a group; they know a standard deviation to 9 %. */
const RUNS = 64;

/** A lab whose scatter has been rehearsed already need not be rehearsed again. */
const known = new WeakMap<Pipeline, Map<string, Outcome<Float64Array>>>();

/**
 * Covariance of the scalars of one run that the noise and the resolution of the instruments make, and what differs
 * from run to run: k × k, from rehearsed runs at the author's values.
 */
export function rehearsedScatter(
  pipeline: Pipeline,
  group: RunGroup,
  using: readonly string[],
): Outcome<Float64Array> {
  const ofPipeline = known.get(pipeline) ?? new Map<string, Outcome<Float64Array>>();
  known.set(pipeline, ofPipeline);
  const key = JSON.stringify([group.when.map(({ quantity, value }) => [quantity.index, value]), using]);
  const found = ofPipeline.get(key) ?? rehearseScatter(pipeline, group, using);
  ofPipeline.set(key, found);
  return found;
}

function rehearseScatter(
  pipeline: Pipeline,
  group: RunGroup,
  using: readonly string[],
): Outcome<Float64Array> {
  const { lab, nominal } = pipeline;
  const subset = allEffects(lab);
  const reduceWith = valuesOfGroup(pipeline, nominal, group, subset);
  const source = randomSource(1);
  const rows: Float64Array[] = [];
  for (let run = 0; run < RUNS; run++) {
    const random = source.fork(run);
    const own = valuesOfGroup(pipeline, drawRun(lab, nominal, random.fork(-1)), group, subset);
    const simulated = pipeline.simulate(own, { random });
    if (!simulated.ok) return simulated;
    const reduced = pipeline.reduce(simulated.value.readings, reduceWith, { findsUncertainties: false });
    // A run in which too few readings are left, say, is no run; a class would take another.
    if (!reduced.ok) {
      if (run === RUNS - 1 && rows.length < RUNS / 2) return fail(...reduced.problems);
      continue;
    }
    rows.push(Float64Array.from(using, (name) => reduced.value.scalars.get(name)?.value ?? Number.NaN));
  }
  const k = using.length;
  const means = Float64Array.from(using, (_, i) => rows.reduce((sum, row) => sum + row[i], 0) / rows.length);
  const covariance = new Float64Array(k * k);
  for (const row of rows) {
    for (let i = 0; i < k; i++) {
      for (let j = 0; j < k; j++)
        covariance[i * k + j] += ((row[i] - means[i]) * (row[j] - means[j])) / (rows.length - 1);
    }
  }
  return succeed(covariance);
}
