import { classroomSteps, type Motion, type Stepper } from '../evolve/index.ts';
import type { Pipeline, QuantityValues, Setting } from '../lab/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import { log10 } from '../wasm/index.ts';
import { allEffects, valuesOfGroup } from './outputs.ts';

/** The result by one stepper at one step, and how far it is from the exact motion's. */
export interface StepRow {
  readonly stepS: number;
  /** NaN where the stepper gave no result at this step. */
  readonly value: number;
  readonly error: number;
  readonly problem: Problem | null;
}

export interface StepperTable {
  readonly stepper: Stepper;
  readonly result: string;
  readonly exact: number;
  readonly rows: readonly StepRow[];
  /** Largest step from which on all smaller ones err by less than a tenth of the uncertainty; null where none does. */
  readonly largestGoodStepS: number | null;
}

export interface StepsOptions {
  readonly subset?: number;
  readonly settings?: readonly Setting[];
  /** Steps to try, s, the largest first; a ladder below a twentieth of the motion where left out. */
  readonly stepsS?: readonly number[];
  /** Standard uncertainty of each result, SI, that a step's error is held against. */
  readonly uncertainties: ReadonlyMap<string, number>;
}

/** The steppers that classes use, from the plainest to the best. */
export const STEPPERS: readonly Stepper[] = [
  'forward-euler',
  'semi-implicit-euler',
  'midpoint',
  'fourth-order',
];

/** Rungs of the ladder of steps: 5, 2, 1 times powers of ten, common practice in tables (no source). */
const RUNGS = 9;

/**
 * For every classroom stepper and per-run result: step → error in the result.
 *
 * The same instruments and steps of reduction follow, so the error is the one that a class would see.
 */
export function tabulateSteps(pipeline: Pipeline, options: StepsOptions): Outcome<readonly StepperTable[]> {
  const { lab } = pipeline;
  const { model } = lab;
  if (model.kind !== 'motion') {
    return fail(
      problem(
        'no-steps',
        { file: lab.file },
        'The model is not a motion in time, so there are no steps to choose.',
      ),
    );
  }
  const group = { when: options.settings ?? [], label: '', trials: [] };
  const values = valuesOfGroup(pipeline, pipeline.nominal, group, options.subset ?? allEffects(lab));
  const exact = resultsOf(pipeline, values);
  if (!exact.ok) return exact;
  const steps = options.stepsS ?? ladder(exact.value.durationS);
  const names = lab.results.filter((result) => result.scope === 'run').map((result) => result.name);
  const tables = STEPPERS.flatMap((stepper) => {
    const runs = steps.map((stepS) => ({
      stepS,
      outcome: resultsOf(pipeline, values, (at) => classroomSteps(model.model, at, { stepper, stepS })),
    }));
    return names.map((name): StepperTable => {
      const truth = exact.value.results.get(name) ?? Number.NaN;
      const rows = runs.map(({ stepS, outcome }): StepRow => {
        const value = outcome.ok ? (outcome.value.results.get(name) ?? Number.NaN) : Number.NaN;
        return {
          stepS,
          value,
          error: value - truth,
          problem: outcome.ok ? null : (outcome.problems[0] ?? null),
        };
      });
      return {
        stepper,
        result: name,
        exact: truth,
        rows,
        largestGoodStepS: largestGoodStep(rows, options.uncertainties.get(name)),
      };
    });
  });
  return succeed(tables);
}

function resultsOf(
  pipeline: Pipeline,
  values: QuantityValues,
  motionOf?: (values: QuantityValues) => Outcome<Motion>,
): Outcome<{ readonly results: ReadonlyMap<string, number>; readonly durationS: number }> {
  const simulated = pipeline.simulate(values, motionOf === undefined ? {} : { motionOf });
  if (!simulated.ok) return simulated;
  const durationS =
    simulated.value.motion === null ? 0 : simulated.value.motion.endS - simulated.value.motion.startS;
  const reduced = pipeline.reduce(simulated.value.readings, values);
  if (!reduced.ok) return reduced;
  return succeed({
    results: new Map([...reduced.value.scalars].map(([name, scalar]) => [name, scalar.value])),
    durationS,
  });
}

/** Steps of 5, 2 and 1 times powers of ten, from the first below a twentieth of the motion on. */
function ladder(durationS: number): readonly number[] {
  const steps: number[] = [];
  for (let power = Math.ceil(log10(durationS / 20)); steps.length < RUNGS; power--) {
    for (const digit of [5, 2, 1]) {
      const step = Number(`${digit}e${power}`);
      if (step <= durationS / 20 && steps.length < RUNGS) steps.push(step);
    }
  }
  return steps;
}

/** A small error at a large step may be luck: all smaller steps must be as good. */
function largestGoodStep(rows: readonly StepRow[], uncertainty: number | undefined): number | null {
  if (uncertainty === undefined || !(uncertainty > 0)) return null;
  let good: number | null = null;
  for (const row of [...rows].sort((a, b) => a.stepS - b.stepS)) {
    if (!(Math.abs(row.error) <= uncertainty / 10)) break;
    good = row.stepS;
  }
  return good;
}
