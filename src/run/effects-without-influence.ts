import type { Pipeline } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { succeed, warning } from '../problem/index.ts';
import { plannedGroups } from './groups.ts';
import { allEffects, gatherOutputs, listOutputs, simulateGroups } from './outputs.ts';
import { settleVariation } from './settle-variation.ts';

/** A change below this share of a result is the evolution's own error, not an effect. */
const NOTHING = 1e-8;

/**
 * Warns of each effect that an expression reads but that moves no result, whether it is switched off from the full
 * model or switched on in the ideal one: a factor that is 0, or a quantity that cancels.
 *
 * @returns one warning an effect without influence; the model's problem where it cannot be run
 */
export function warnOfEffectsWithoutInfluence(pipeline: Pipeline): Outcome<readonly Problem[]> {
  const { lab, nominal } = pipeline;
  const groups = plannedGroups(lab);
  const outputs = listOutputs(lab, groups);
  const variation = settleVariation(pipeline, groups);
  const resultsWith = (subset: number): Outcome<Float64Array> => {
    const runs = simulateGroups(pipeline, groups, nominal, subset, variation);
    if (!runs.ok) return runs;
    const values = new Float64Array(outputs.length);
    const gathered = gatherOutputs(pipeline, groups, outputs, runs.value, nominal, subset, () => 1, values);
    return gathered.ok ? succeed(values) : gathered;
  };
  const all = allEffects(lab);
  const full = resultsWith(all);
  const ideal = resultsWith(0);
  if (!full.ok) return full;
  if (!ideal.ok) return ideal;
  const warnings: Problem[] = [];
  for (const [index, { name, place }] of lab.effects.entries()) {
    const without = resultsWith(all & ~(1 << index));
    const alone = resultsWith(1 << index);
    // What cannot be run is told where it matters; an effect that decides whether there is a run has influence.
    if (!without.ok || !alone.ok) continue;
    if (!isAlike(full.value, without.value) || !isAlike(ideal.value, alone.value)) continue;
    const message = `The effect "${name}" changes no result: on or off, ${lab.results.map((result) => result.name).join(' and ')} stay as they are.`;
    warnings.push(
      warning(
        'effect-without-influence',
        place,
        message,
        'Is its quantity multiplied by 0, or does it cancel?',
      ),
    );
  }
  return succeed(warnings);
}

function isAlike(one: Float64Array, other: Float64Array): boolean {
  return one.every((value, index) => Math.abs(value - other[index]) <= NOTHING * Math.abs(value));
}
