import type { Pipeline, QuantityValues, Setting } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { Unit } from '../quantity/index.ts';
import { hypotenuse } from '../wasm/index.ts';
import { plannedGroups, type RunGroup } from './groups.ts';
import {
  allEffects,
  gatherOutputs,
  listOutputs,
  type Output,
  simulateGroups,
  valuesOfGroup,
} from './outputs.ts';
import { propagateThrough } from './propagate-through.ts';
import { spreadByRuns } from './run-spread.ts';
import { alikeRuns, type RunVariation } from './run-variation.ts';
import { settleVariation } from './settle-variation.ts';
import { simulateMany } from './simulate-many.ts';

/** A number with its unit; SI. */
export interface PredictedValue {
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface PredictedHold {
  readonly name: string;
  /** Time and state at which the condition first fails, SI; null where it holds to the end. */
  readonly failsAt: { readonly t: number; readonly state: ReadonlyMap<string, number> } | null;
}

export interface Prediction {
  readonly results: readonly {
    readonly name: string;
    readonly is: string;
    readonly unit: Unit;
    /** From the simulated run, reduced like a real one; SI. */
    readonly predicted: PredictedValue;
    /** From the derivation's formula; null where the lab gives none; SI. */
    readonly theory: PredictedValue | null;
  }[];
  readonly holds: readonly PredictedHold[];
  /** What ended the motion and when, s; null for a relation. */
  readonly ended: { readonly by: string; readonly t: number } | null;
}

export interface PredictOptions {
  /** Effects that are on: bit i for effect i. All where left out. */
  readonly subset?: number;
  readonly settings?: readonly Setting[];
}

/**
 * What theory and the model expect: results with the uncertainty that the quantities bring.
 *
 * The uncertainty is that of JCGM 100 (5.1.2, 5.2.2): central differences over one standard uncertainty of each
 * base quantity, correlations taken along. What differs from run to run counts as in a mean over the plan's repeats.
 * Noise of the instruments is not in it; `rehearse` shows that.
 */
export function predict(pipeline: Pipeline, options: PredictOptions = {}): Outcome<Prediction> {
  const { lab } = pipeline;
  const subset = options.subset ?? allEffects(lab);
  const when = options.settings ?? [];
  const single: RunGroup = { when, label: '', trials: [] };
  // A result across runs lives on what the plan varies: a setting of that is for the single run alone.
  const varied = new Set(lab.plan.settings.flatMap((settings) => settings.map(({ quantity }) => quantity)));
  const parts: readonly Part[] = [
    partOf(pipeline, 'run', [single]),
    partOf(
      pipeline,
      'across',
      plannedGroups(
        lab,
        when.filter(({ quantity }) => !varied.has(quantity)),
      ),
    ),
  ];
  const width = 2 * lab.results.length;
  const evaluate = (base: Float64Array, out: Float64Array): Outcome<void> => {
    for (const part of parts) {
      const done = evaluatePart(pipeline, part, base, subset, out);
      if (!done.ok) return done;
    }
    const values = valuesOfGroup(pipeline, base, single, subset);
    lab.results.forEach((result, index) => {
      out[lab.results.length + index] = result.theory?.evaluate(values) ?? Number.NaN;
    });
    return succeed(undefined);
  };
  const chance = chanceOf(pipeline, parts, subset, width);
  if (!chance.ok) return chance;
  const centre = new Float64Array(width);
  const nominal = evaluate(pipeline.nominal, centre);
  if (!nominal.ok) return nominal;
  const spread = propagateThrough(pipeline, width, evaluate, subset);
  if (!spread.ok) return spread;
  const motion = describeMotion(pipeline, valuesOfGroup(pipeline, pipeline.nominal, single, subset));
  if (!motion.ok) return motion;
  const valueAt = (index: number): PredictedValue => ({
    value: centre[index],
    standardUncertainty: hypotenuse(spread.value[index], chance.value[index]),
  });
  return succeed(
    {
      results: lab.results.map((result, index) => ({
        name: result.name,
        is: result.is,
        unit: result.unit,
        predicted: valueAt(index),
        theory: result.theory === null ? null : valueAt(lab.results.length + index),
      })),
      ...motion.value,
    },
    motion.warnings,
  );
}

/** Results of one scope, and the groups of runs that they are simulated in. */
interface Part {
  readonly groups: readonly RunGroup[];
  readonly variation: RunVariation;
  readonly outputs: readonly Output[];
  /** For each output its place among the lab's results. */
  readonly places: readonly number[];
}

function partOf(pipeline: Pipeline, scope: 'run' | 'across', groups: readonly RunGroup[]): Part {
  const { lab } = pipeline;
  const outputs = listOutputs(lab, groups).filter(({ result }) => result.scope === scope);
  const variation = outputs.length === 0 ? alikeRuns(lab) : settleVariation(pipeline, groups);
  return { groups, variation, outputs, places: outputs.map(({ result }) => lab.results.indexOf(result)) };
}

function evaluatePart(
  pipeline: Pipeline,
  part: Part,
  base: Float64Array,
  subset: number,
  out: Float64Array,
): Outcome<void> {
  if (part.outputs.length === 0) return succeed(undefined);
  const runs = simulateGroups(pipeline, part.groups, base, subset, part.variation);
  if (!runs.ok) return runs;
  const values = new Float64Array(part.outputs.length);
  const gathered = gatherOutputs(
    pipeline,
    part.groups,
    part.outputs,
    runs.value,
    base,
    subset,
    () => 1,
    values,
  );
  if (!gathered.ok) return gathered;
  part.places.forEach((place, index) => {
    out[place] = values[index];
  });
  return succeed(undefined);
}

/** What differs from run to run, in the mean over the repeats of the plan. */
function chanceOf(
  pipeline: Pipeline,
  parts: readonly Part[],
  subset: number,
  width: number,
): Outcome<Float64Array> {
  const chance = new Float64Array(width);
  for (const { groups, outputs, places, variation } of parts) {
    if (outputs.length === 0) continue;
    const spread = spreadByRuns(
      pipeline,
      groups,
      outputs,
      [subset],
      variation,
      () => pipeline.lab.plan.repeats,
      (points, visit) => simulateMany(pipeline, groups, points, visit),
    );
    if (!spread.ok) return spread;
    for (const row of spread.value.flat())
      for (const [at, place] of places.entries()) chance[place] = hypotenuse(chance[place], row[at]);
  }
  return succeed(chance);
}

/** Where the model's conditions first fail, and what ends the motion. */
function describeMotion(
  pipeline: Pipeline,
  values: QuantityValues,
): Outcome<Pick<Prediction, 'holds' | 'ended'>> {
  const simulated = pipeline.simulate(values);
  if (!simulated.ok) return simulated;
  const { motion } = simulated.value;
  const { model } = pipeline.lab;
  if (motion === null || model.kind !== 'motion') return succeed({ holds: [], ended: null });
  const names = model.model.stateNames;
  return succeed(
    {
      holds: motion.holds.map(({ name, failsAt }) => ({
        name,
        failsAt:
          failsAt === null
            ? null
            : { t: failsAt.t, state: new Map(names.map((state, index) => [state, failsAt.state[index]])) },
      })),
      ended: { by: motion.stop ?? motion.ended, t: motion.endS },
    },
    simulated.warnings,
  );
}
