import type { Pipeline, QuantityValues } from '../lab/index.ts';
import { type Outcome, succeed } from '../problem/index.ts';
import { type Extremes, extremesAt } from './extremes.ts';

/** How a run goes with all effects on: how long, how far the model is true, how many readings count. SI. */
export interface Course {
  /** What ended the motion and when; null for a model without time. */
  readonly ended: { readonly by: string; readonly t: number } | null;
  /** The condition that fails first, with the time and the state there; null where all hold to the end. */
  readonly fails: {
    readonly name: string;
    readonly t: number;
    readonly state: ReadonlyMap<string, number>;
  } | null;
  /** Time until the motion ends or stops being valid, s; NaN for a model without time. */
  readonly time: number;
  /** Readings that stand in the last window of the reduction; null where the results come from no columns. */
  readonly readings: number | null;
  readonly extremes: Extremes;
}

/** Runs the lab once with given values, and reduces the run without noise. */
export function followCourse(pipeline: Pipeline, values: QuantityValues): Outcome<Course> {
  const simulated = pipeline.simulate(values);
  if (!simulated.ok) return simulated;
  const { motion, readings } = simulated.value;
  const { model } = pipeline.lab;
  const names = model.kind === 'motion' ? model.model.stateNames : [];
  const failures = (motion?.holds ?? []).flatMap(({ name, failsAt }) =>
    failsAt === null
      ? []
      : [
          {
            name,
            t: failsAt.t,
            state: new Map(names.map((state, index) => [state, failsAt.state[index]] as const)),
          },
        ],
  );
  const [fails = null] = failures.sort((a, b) => a.t - b.t);
  const ended = motion === null ? null : { by: motion.stop ?? motion.ended, t: motion.endS };
  const extremes = extremesAt(pipeline, values, motion);
  const reduced = pipeline.reduce(readings, values);
  if (!reduced.ok) return reduced;
  let rows: number | null = null;
  for (const column of reduced.value.columns.values()) rows = column.values.length;
  return succeed({
    ended,
    fails,
    time: motion === null ? Number.NaN : Math.min(motion.endS, fails?.t ?? motion.endS) - motion.startS,
    readings: rows,
    extremes,
  });
}
