import type { Motion } from '../evolve/index.ts';
import type { Lab, Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import { beginRun, beginTrueRun, type KnownMotion, type RunState } from '../reduction/index.ts';
import type { RunGroup } from './groups.ts';
import { needsUncertainties, valuesOfGroup } from './outputs.ts';

/** How far one step of the reduction shifts a result away from what the motion itself would give, SI. */
export interface StepShift {
  /** In words: 'motion from edges of wheel gate'. */
  readonly step: string;
  /** By the result's name. */
  readonly shifts: ReadonlyMap<string, number>;
}

/**
 * Measures the systematic shift of each step whose true outcome is known from the motion, in a rehearsal without noise.
 *
 * What is true is put in the place of what the steps gave, one after the other: the shift of a step is the result with
 * all steps before it exact, less the result with that step exact too. So the shifts add up to what the whole
 * reduction does. What a step's exact counterpart is, each kind of step says for itself: the motion at the same times,
 * a filter that lets everything pass, readings without gaps.
 *
 * @param subset effects that are on
 * @returns one entry a step that has an exact counterpart; none for a model without time
 */
export function measureStepShifts(
  pipeline: Pipeline,
  group: RunGroup,
  base: Float64Array,
  subset: number,
): Outcome<readonly StepShift[]> {
  const { lab } = pipeline;
  const { steps } = lab.eachRun;
  if (!steps.some(({ exact }) => exact?.canShift === true)) return succeed([]);
  const values = valuesOfGroup(pipeline, base, group, subset);
  const simulated = pipeline.simulate(values);
  if (!simulated.ok) return simulated;
  const { motion, readings } = simulated.value;
  if (motion === null) return succeed([]);
  const state = beginRun(
    'the simulated run',
    new Map(readings.map((reading) => [reading.instrument, reading])),
    { findsUncertainties: needsUncertainties(lab) },
  );
  const truth = beginTrueRun(knownMotion(lab, motion));
  const results = lab.results.filter((result) => result.scope === 'run').map((result) => result.name);
  const finish = (from: number): Outcome<RunState> => {
    const copy = { ...state, columns: new Map(state.columns), scalars: new Map(state.scalars) };
    for (const step of steps.slice(from)) {
      const done = step.run(copy, values);
      if (!done.ok) return done;
    }
    return succeed(copy);
  };
  let before = finish(0);
  if (!before.ok) return before;
  const shifts: StepShift[] = [];
  for (const [index, step] of steps.entries()) {
    const done = step.run(state, values);
    if (!done.ok) return succeed(shifts);
    step.exact?.put(state, truth, values);
    if (step.exact?.canShift !== true) continue;
    const after = finish(index + 1);
    // Exact columns that the steps after it cannot reduce say nothing of a shift.
    if (!after.ok) return succeed(shifts);
    const [plain, exact] = [before.value.scalars, after.value.scalars];
    const shiftOf = (name: string) =>
      (plain.get(name)?.value ?? Number.NaN) - (exact.get(name)?.value ?? Number.NaN);
    shifts.push({ step: step.words, shifts: new Map(results.map((name) => [name, shiftOf(name)])) });
    before = after;
  }
  return succeed(shifts);
}

function knownMotion({ model, instruments }: Lab, motion: Motion): KnownMotion {
  const names = model.kind === 'motion' ? model.model.stateNames : [];
  const space = new Float64Array(names.length);
  return {
    startS: motion.startS,
    endS: motion.endS,
    breaks: motion.breaks,
    stateOf(name) {
      const index = names.indexOf(name);
      if (index < 0) return null;
      return {
        value(t) {
          motion.stateAt(t, space);
          return space[index];
        },
        rate(t) {
          motion.ratesAt(t, space);
          return space[index];
        },
      };
    },
    signalOf(name) {
      const instrument = instruments.find((candidate) => candidate.name === name);
      const signal = instrument?.signals.find(({ key }) => key === 'of');
      return signal === undefined ? null : (t) => motion.signalAt(signal.index, t);
    },
  };
}
