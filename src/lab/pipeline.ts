import type { EvolutionOptions, Motion } from '../evolve/index.ts';
import { createEvolver } from '../evolve/index.ts';
import type { RandomSource } from '../inference/index.ts';
import type { Readings, Source } from '../instrument/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, problem, succeed } from '../problem/index.ts';
import type { PreparedReduction, RunState } from '../reduction/index.ts';
import { beginRun } from '../reduction/index.ts';
import type { Setting } from './effect-section.ts';
import type { LabInstrument } from './instrument-section.ts';
import type { Lab } from './lab.ts';
import type { QuantityValues } from './quantity-function.ts';
import type { Reduction } from './reduction-section.ts';
import type { Relation } from './relation-section.ts';

/** Readings that the model gives for one run, and the motion they were taken of (null for a relation). */
export interface SimulatedRun {
  readonly readings: readonly Readings[];
  readonly motion: Motion | null;
}

export interface SimulateOptions {
  /** Null: no noise and no resolution, but rate, lag and marks act. */
  readonly random?: RandomSource | null;
  /** How the motion is found; the adaptive method where left out, a classroom stepper in the table of steps. */
  readonly motionOf?: (values: QuantityValues) => Outcome<Motion>;
  readonly evolution?: EvolutionOptions;
}

export interface ReduceOptions {
  /** In words for messages: 'run "a1"'. */
  readonly runName?: string;
  /** Whether fits are kept with their data; many simulated runs need none. */
  readonly keepsReports?: boolean;
  /** Whether uncertainties of scalars are found. */
  readonly findsUncertainties?: boolean;
}

/**
 * The lab as one function, settings in, results out, in two halves that every way of running it shares.
 *
 * A motion given back by `simulate` can be looked at until the next call of `simulate`.
 */
export interface Pipeline {
  readonly lab: Lab;
  /** All quantities in SI: base values, then the settings in order, then what is derived from them. */
  values(base: Float64Array, ...settings: readonly (readonly Setting[])[]): QuantityValues;
  /** The author's values of the base quantities. */
  readonly nominal: Float64Array;
  /** Runs the model and points the instruments at it. */
  simulate(values: QuantityValues, options?: SimulateOptions): Outcome<SimulatedRun>;
  /** Takes readings, real or simulated, through the steps of `each run`. */
  reduce(readings: readonly Readings[], values: QuantityValues, options?: ReduceOptions): Outcome<RunState>;
}

/** Makes the pipeline of a lab; it holds work space and is not to be shared between threads. */
export function createPipeline(lab: Lab): Pipeline {
  const nominal = Float64Array.from(lab.quantities.base, (quantity) => quantity.estimate.value);
  const count = lab.quantities.all.length;
  const evolver = lab.model.kind === 'motion' ? createEvolver(lab.model.model) : null;

  const findMotion = (values: QuantityValues, options: SimulateOptions): Outcome<Motion> => {
    if (options.motionOf !== undefined) return options.motionOf(values);
    if (evolver === null) throw new TypeError('only a model with rates has a motion');
    return evolver.run(values, options.evolution);
  };

  return {
    lab,
    nominal,
    values(base, ...settings) {
      const values = new Float64Array(count);
      values.set(base);
      for (const group of settings)
        for (const setting of group) values[setting.quantity.index] = setting.value;
      lab.derive(values);
      return values;
    },
    simulate(values, options = {}) {
      const bad = notFinite(lab, values);
      if (bad !== null) return fail(bad);
      const random = options.random ?? null;
      if (lab.model.kind === 'none') {
        return fail(
          problem(
            'no-model',
            { file: lab.file },
            'The lab has no model, so nothing can be predicted.',
            'Add "model" to the lab file.',
          ),
        );
      }
      if (lab.model.kind === 'relation') {
        const { relation } = lab.model;
        const observed = observeAll(lab, values, random, (instrument) =>
          pointsSource(relation, instrument, values),
        );
        return observed.ok
          ? succeed({ readings: observed.value, motion: null }, observed.warnings)
          : observed;
      }
      const motion = findMotion(values, options);
      if (!motion.ok) return inModel(motion.problems, lab.model.place);
      const observed = observeAll(lab, values, random, (instrument) =>
        motionSource(motion.value, instrument),
      );
      return observed.ok
        ? succeed({ readings: observed.value, motion: motion.value }, observed.warnings)
        : observed;
    },
    reduce: (readings, values, options = {}) => reduceRun(lab.eachRun, readings, values, options),
  };
}

/**
 * The pipeline with other steps: what the instruments do is the same, and so is all work space.
 *
 * @param reduction made of the same lab, as `tell` makes it
 */
export function withReduction(pipeline: Pipeline, { eachRun, acrossRuns }: Reduction): Pipeline {
  return {
    ...pipeline,
    lab: { ...pipeline.lab, eachRun, acrossRuns },
    reduce: (readings, values, options = {}) => reduceRun(eachRun, readings, values, options),
  };
}

function reduceRun(
  steps: PreparedReduction,
  readings: readonly Readings[],
  values: QuantityValues,
  options: ReduceOptions,
): Outcome<RunState> {
  const byInstrument = new Map(readings.map((reading) => [reading.instrument, reading]));
  const state = beginRun(options.runName ?? 'the simulated run', byInstrument, options);
  const done = steps.run(state, values);
  if (!done.ok) return done;
  state.notes.push(...done.warnings);
  return succeed(state);
}

function observeAll(
  lab: Lab,
  values: QuantityValues,
  random: RandomSource | null,
  sourceOf: (instrument: LabInstrument) => Source,
): Outcome<readonly Readings[]> {
  const readings: Readings[] = [];
  const warnings: Problem[] = [];
  for (const [index, instrument] of lab.instruments.entries()) {
    // Each instrument has its own stream, so that adding one changes no other's noise.
    const observed = instrument.kind.observe(
      sourceOf(instrument),
      instrument.settings(values),
      random?.fork(index) ?? null,
    );
    if (!observed.ok) {
      return fail(
        ...observed.problems.map((found) => ({
          ...found,
          place: { ...instrument.place, step: `instrument "${instrument.name}"` },
        })),
      );
    }
    readings.push({ ...observed.value, instrument: instrument.name });
    warnings.push(...observed.warnings);
  }
  return succeed(readings, warnings);
}

function motionSource(motion: Motion, instrument: LabInstrument): Source {
  const { startS, endS, breaks } = motion;
  const looking = (index: number) => ({
    valueAt: (t: number) => motion.signalAt(index, t),
    valueBefore: (t: number) => motion.signalBefore(index, t),
  });
  const of = instrument.signals.find((signal) => signal.key === 'of');
  if (of !== undefined) {
    return {
      kind: 'motion',
      startS,
      endS,
      breaks,
      dimension: instrument.shape.dimension,
      ...looking(of.index),
    };
  }
  const margin = (key: 'from' | 'to') => {
    const signal = instrument.signals.find((candidate) => candidate.key === key);
    return signal === undefined ? null : looking(signal.index);
  };
  return { kind: 'events', startS, endS, breaks, from: margin('from'), to: margin('to') };
}

function pointsSource(relation: Relation, instrument: LabInstrument, values: QuantityValues): Source {
  const [first] = instrument.signals;
  const signal = first === undefined ? undefined : relation.signals[first.index];
  return {
    kind: 'points',
    values: signal?.evaluate(relation.over, values) ?? new Float64Array(0),
    dimension: instrument.shape.dimension,
    against: { name: relation.control, values: relation.over, dimension: relation.controlDimension },
  };
}

function notFinite(lab: Lab, values: QuantityValues): Problem | null {
  const index = values.findIndex((value) => !Number.isFinite(value));
  const quantity = lab.quantities.all[index];
  if (quantity === undefined) return null;
  return problem(
    'not-finite',
    quantity.place,
    `The value of ${quantity.name} is not a finite number (${values[index]}).`,
  );
}

/** The evolution knows times and states; where the model stands in the lab file is known here. */
function inModel(problems: readonly Problem[], place: Place): Outcome<never> {
  return fail(...problems.map((found) => ({ ...found, place: { ...place, ...found.place } })));
}
