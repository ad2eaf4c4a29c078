import type { Motion } from '../evolve/index.ts';
import type { Pipeline } from '../lab/index.ts';
import type { Outcome } from '../problem/index.ts';
import { succeed } from '../problem/index.ts';
import type { PreparedStep, RunState } from '../reduction/index.ts';
import { beginRun } from '../reduction/index.ts';
import type { RunGroup } from './groups.ts';
import { valuesOfGroup } from './outputs.ts';

/** How far one step of the reduction shifts a result away from what exact columns would give, SI. */
export interface StepShift {
  /** In words: 'motion from edges of wheel gate'. */
  readonly step: string;
  /** By the result's name. */
  readonly shifts: ReadonlyMap<string, number>;
}

/**
 * Measures the systematic shift of each step that gives the states of the model, in a rehearsal without noise.
 *
 * A step's columns that bear the names of states are compared with the motion itself at the same times: the shift
 * is the result with the step's own columns less the result with the exact ones, all else alike.
 *
 * @param subset effects that are on
 * @returns one entry a step that gives a state; none for a model without time
 */
export function measureStepShifts(
  pipeline: Pipeline,
  group: RunGroup,
  base: Float64Array,
  subset: number,
): Outcome<readonly StepShift[]> {
  const { lab } = pipeline;
  if (lab.model.kind !== 'motion') return succeed([]);
  const states = lab.model.model.stateNames;
  const values = valuesOfGroup(pipeline, base, group, subset);
  const simulated = pipeline.simulate(values);
  if (!simulated.ok) return simulated;
  const { motion, readings } = simulated.value;
  if (motion === null) return succeed([]);
  const results = lab.results.filter((result) => result.scope === 'run').map((result) => result.name);
  const run = (exactAfter: PreparedStep | null): Outcome<RunState> => {
    const state = beginRun(
      'the simulated run',
      new Map(readings.map((reading) => [reading.instrument, reading])),
      {
        findsUncertainties: lab.eachRun.readsUncertainties,
      },
    );
    for (const step of lab.eachRun.steps) {
      const done = step.run(state, values);
      if (!done.ok) return done;
      if (step === exactAfter) putExactStates(state, step, states, motion);
    }
    return succeed(state);
  };
  const plain = run(null);
  if (!plain.ok) return plain;
  const shifts: StepShift[] = [];
  for (const step of lab.eachRun.steps) {
    if (!givesStates(step, states)) continue;
    const exact = run(step);
    if (!exact.ok) return exact;
    const shiftOf = (name: string) =>
      (plain.value.scalars.get(name)?.value ?? Number.NaN) -
      (exact.value.scalars.get(name)?.value ?? Number.NaN);
    shifts.push({ step: step.words, shifts: new Map(results.map((name) => [name, shiftOf(name)])) });
  }
  return succeed(shifts);
}

/** The time column tells where to look at the motion; without one among the same rows nothing can be compared. */
function givesStates(step: PreparedStep, states: readonly string[]): boolean {
  const names = step.gives.columns.map(({ name }) => name);
  return names.some((name) => states.includes(name)) && names.includes('t');
}

function putExactStates(
  state: RunState,
  step: PreparedStep,
  states: readonly string[],
  motion: Motion,
): void {
  const times = state.columns.get('t')?.values;
  if (times === undefined) return;
  const exact = new Float64Array(states.length);
  for (const { name } of step.gives.columns) {
    const index = states.indexOf(name);
    const column = state.columns.get(name);
    if (index < 0 || column === undefined) continue;
    const replaced = Float64Array.from(times, (t) => {
      motion.stateAt(t, exact);
      return exact[index];
    });
    state.columns.set(name, { ...column, values: replaced });
  }
}
